package rules

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
)

// questions are what only the keeper can settle: whether the newest readings are right and, if
// they are, what one layer is where that would change the advice.
func (c *Case) questions(a *reports.Advice) []reports.Question {
	list := []reports.Question{}
	for _, r := range c.Newest {
		if r.Doubted() {
			list = append(list, c.SlipQuestion(r))
		}
	}
	for _, gone := range slices.Backward(c.Gone) {
		if r := gone.Reading; !r.Core.Sure && !(r.Doubted() && slices.Contains(c.Newest, r)) && len(list) < mostQuestions {
			list = append(list, c.removalQuestion(r, gone.From, gone.MM))
		}
	}
	if len(a.WaterFirst) == 0 && len(list) == 0 {
		if q, ok := c.nameQuestion(); ok {
			list = append(list, q)
		}
	}
	return list
}

// SlipQuestion asks whether a reading is right and names the likeliest slip.
func (c *Case) SlipQuestion(r *infer.Reading) reports.Question {
	q := reports.Question{Station: r.Core.Station, Date: r.Core.Date}
	title := fmt.Sprintf("The core of %s on %s", r.Core.Station, r.Core.Date)
	was := ""
	if r.Former != nil {
		was = fmt.Sprintf(" (%s on %s)", c.Units.Length(r.Former.Depth()), r.Former.Core.Date)
	}
	say := func(format string, args ...any) { q.Text = title + fmt.Sprintf(format, args...) }
	mend := func(label, command string) {
		q.Mends = append(q.Mends, reports.Mend{Slip: r.Slip, Label: label, Command: command})
	}
	switch r.Slip {
	case reports.SlipTurnedOver:
		say(" looks upside down: its bottom is like the top of a bed. Was it typed from the floor up?")
		mend("Yes, turn it over", c.amend(r, "--turn"))
	case reports.SlipDepths:
		say(" is %s deep, but its last layer alone is as thick as the whole bed was%s. Were the depths of the edges typed as thicknesses?", c.Units.Length(r.Depth()), was)
		mend("Yes, they are depths", c.amend(r, "--depths"))
	case reports.SlipTenfold:
		c.askTenfold(&q, r, was, say, mend)
	case reports.SlipTenth:
		say(" is only %s deep%s. Was cm typed as mm?", c.Units.Length(r.Depth()), was)
		mend("Yes, make it ten times as thick", c.amend(r, "--times 10"))
	case reports.SlipRemoval:
		return c.removalQuestion(r, r.Former.Core.Date, r.Former.Named.Mulm-r.Named.Mulm)
	case reports.SlipTopUp:
		say(" has substrate on top of the earlier bed%s, and no top-up is entered. Was substrate added?", was)
		mend("Yes, enter a top-up", c.enter(r))
	default:
		say(" is very unlike the one before it%s. Are the tank, the station and the ruler's length right, and was nothing siphoned, stirred or added since?", was)
		mend("No, take it out", c.command("core remove", "--station "+reports.Quoted(r.Core.Station)+" --date "+r.Core.Date.String()))
	}
	q.Mends = append(q.Mends, reports.Mend{Slip: reports.SlipNone, Label: "It is right as it stands", Command: c.amend(r, "--sure")})
	return q
}

// mostQuestions is how many questions are asked at once (assumption: a keeper answers a few).
const mostQuestions = 3

// removalQuestion asks whether mulm that went before a reading was siphoned.
func (c *Case) removalQuestion(r *infer.Reading, from layers.Date, mm float64) reports.Question {
	event := reports.Mend{Slip: reports.SlipRemoval}.Event(r.Core.Date)
	return reports.Question{
		Station: r.Core.Station, Date: r.Core.Date,
		Text: fmt.Sprintf("Between %s and %s about %s of mulm went at %s, and no event explains it. Was it siphoned?",
			from, r.Core.Date, c.Units.Length(math.Round(mm)), r.Core.Station),
		Mends: []reports.Mend{
			{Slip: reports.SlipRemoval, Label: "Yes, enter a siphoning", Command: c.command("event add", string(event.Kind)+" --date "+event.Date.String())},
			{Slip: reports.SlipNone, Label: "It is right as it stands", Command: c.amend(r, "--sure")},
		},
	}
}

// askTenfold asks about a unit: of one layer, if that alone explains the difference.
func (c *Case) askTenfold(q *reports.Question, r *infer.Reading, was string, say func(string, ...any), mend func(label, command string)) {
	if r.Former != nil {
		if i := r.SlipLayer; i >= 0 {
			say(" is %s deep%s, since layer %d is %s thick. Was mm typed as cm in that layer?", c.Units.Length(r.Depth()), was, i+1, c.Units.Length(r.Core.Layers[i].ThicknessMM))
			mend("Yes, make that layer a tenth as thick", c.amend(r, retyped(r.Core.Layers, i)))
			q.Mends[0].Layer, q.Mends[0].Alone = i, true
			return
		}
	}
	switch {
	case was != "":
		say(" is %s deep, about ten times as deep as the one before%s. Was mm typed as cm?", c.Units.Length(r.Depth()), was)
	case r.Named.Mulm > 0:
		say(" is %s deep with %s of mulm, more than such a bed has. Was mm typed as cm?", c.Units.Length(r.Depth()), c.Units.Length(r.Named.Mulm))
	default:
		say(" is %s deep, more than such a bed is. Was mm typed as cm?", c.Units.Length(r.Depth()))
	}
	mend("Yes, make it a tenth as thick", c.amend(r, "--times 0.1"))
}

// retyped writes layers for a command, one of them a tenth as thick.
func retyped(list []layers.Layer, thin int) string {
	parts := make([]string, len(list))
	for i, l := range list {
		mm := l.ThicknessMM
		if i == thin {
			mm /= 10
		}
		parts[i] = "'" + strings.TrimSpace(strconv.FormatFloat(mm, 'f', -1, 64)+"mm "+l.Color.String()+" "+l.Band.String()) + "'"
	}
	return strings.Join(parts, " ")
}

// amend is the command that changes a reading's core.
func (c *Case) amend(r *infer.Reading, change string) string {
	return c.command("core amend", "--station "+reports.Quoted(r.Core.Station)+" --date "+r.Core.Date.String()+" "+change)
}

// enter is the command that enters the event that a reading's slip suggests.
func (c *Case) enter(r *infer.Reading) string {
	event := reports.Mend{Slip: r.Slip}.Event(r.Core.Date)
	return c.command("event add", string(event.Kind)+" --date "+event.Date.String())
}

func (c *Case) command(verb, rest string) string {
	return "panecore " + verb + " " + reports.Quoted(c.Tank.ID) + " " + rest
}

// nameQuestion asks about the layer on whose name most depends: the advice, or else enough mulm to
// look like a slip later. Of several in one core it is the uppermost, which settles those below.
func (c *Case) nameQuestion() (q reports.Question, ok bool) {
	most := 0
	for i := range c.unsure {
		l := &c.unsure[i]
		first := l.drawer.Reading.Names[l.layer]
		all := 0
		for b := range l.under {
			all += l.under[b].draws()
		}
		for b := range l.under {
			n := l.under[b].draws()
			if palette.Band(b) == first || l.under[first].draws() == 0 || float64(n) < worthDoubting*float64(all) {
				continue
			}
			weight, depends := l.depends(first, palette.Band(b), c.Units)
			if weight > most && (weight > 1 || float64(n) >= worthAsking*float64(all)) {
				most, q, ok = weight, c.askName(l, first, palette.Band(b), depends), true
			}
		}
	}
	return q, ok
}

// worthAsking is the least probability of a second name that is asked about if only the mulm
// depends on it (assumption: no keeper wants a question about every shade).
const worthAsking = 0.25

func (c *Case) askName(l *unsureLayer, first, second palette.Band, depends string) reports.Question {
	r := l.drawer.Reading
	which := fmt.Sprintf("layer %d", l.layer+1)
	if l.layer == 0 {
		which = "the top layer"
	}
	q := reports.Question{Station: r.Core.Station, Date: r.Core.Date, Text: fmt.Sprintf("%s Is %s at %s (%s to %s, %s, read on %s) %s or %s?",
		depends, which, r.Core.Station, c.Units.Number(r.Edges[l.layer]), c.Units.Length(r.Edges[l.layer+1]), r.Core.Layers[l.layer].Color, r.Core.Date, first, second)}
	for _, band := range []palette.Band{first, second} {
		q.Mends = append(q.Mends, reports.Mend{
			Slip: reports.SlipName, Label: "It is " + band.String(), Layer: l.layer, Band: band,
			Command: c.amend(r, fmt.Sprintf("--name %d=%s", l.layer+1, band)),
		})
	}
	return q
}
