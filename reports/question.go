package reports

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"panecore/layers"
	"panecore/palette"
)

// Ask lists what should be asked of a core of a tank before it is filed, or after: empty, where
// it fits the record or its keeper has said that it is right.
func Ask(tank layers.Tank, core layers.Core, own []palette.Prototype, s Settings) []Question {
	others := make([]layers.Core, 0, len(tank.Cores)+1)
	for _, c := range tank.Cores {
		if c.Station != core.Station || c.Date != core.Date {
			others = append(others, c)
		}
	}
	tank.Cores = append(others, core)
	s.AsOf, s.Own = core.Date, func(string) []palette.Prototype { return own }
	o := newOutlook(tank, s)
	for _, r := range o.readings {
		if r.core.Station == core.Station && r.core.Date == core.Date && r.doubted() {
			return []Question{o.slipQuestion(r)}
		}
	}
	return []Question{}
}

// questions are what only the keeper can settle: of the newest readings whether they are right,
// and then of one layer what it is, where that would change the advice.
func (o *outlook) questions(a *Advice) []Question {
	list := []Question{}
	for _, r := range o.newest {
		if r.doubted() {
			list = append(list, o.slipQuestion(r))
		}
	}
	if len(a.WaterFirst) == 0 && len(list) == 0 {
		if q, ok := o.nameQuestion(); ok {
			list = append(list, q)
		}
	}
	return list
}

// slipQuestion asks whether a reading is right, and names the likeliest slip.
func (o *outlook) slipQuestion(r *reading) Question {
	q := Question{Station: r.core.Station, Date: r.core.Date}
	title := fmt.Sprintf("The core of %s on %s", r.core.Station, r.core.Date)
	was := ""
	if r.former != nil {
		was = fmt.Sprintf(" (%s on %s)", o.say.Length(r.former.depth()), r.former.core.Date)
	}
	say := func(format string, args ...any) { q.Text = title + fmt.Sprintf(format, args...) }
	mend := func(label, command string) {
		q.Mends = append(q.Mends, Mend{Slip: r.slip, Label: label, Command: command})
	}
	switch r.slip {
	case SlipTurnedOver:
		say(" looks turned over: its foot is like the top of a bed. Was it typed from the floor up?")
		mend("Yes, turn it over", o.amend(r, "--turn"))
	case SlipDepths:
		say(" is %s deep, but its last layer alone is as thick as the whole bed was%s. Were the depths of edges typed as thicknesses?", o.say.Length(r.depth()), was)
		mend("Yes, they are depths", o.amend(r, "--depths"))
	case SlipTenfold:
		o.askTenfold(&q, r, was, say, mend)
	case SlipTenth:
		say(" is only %s deep%s. Was cm typed as mm?", o.say.Length(r.depth()), was)
		mend("Yes, make it ten times as thick", o.amend(r, "--times 10"))
	case SlipRemoval:
		q.Text = fmt.Sprintf("Between %s and %s about %s of mulm went at %s, and no event says so. Was it siphoned?",
			r.former.core.Date, r.core.Date, o.say.Length(r.former.named.mulm-r.named.mulm), r.core.Station)
		mend("Yes, enter a siphoning", o.enter(r))
	case SlipTopUp:
		say(" has substrate on top of the bed that was%s, and no top-up is entered. Was substrate added?", was)
		mend("Yes, enter a top-up", o.enter(r))
	default:
		say(" is most unlike the one before it%s. Are the tank, the station and the ruler's length right, and was nothing siphoned, stirred or added since?", was)
		mend("No, take it out", o.command("core remove", "--station "+Quoted(r.core.Station)+" --date "+r.core.Date.String()))
	}
	q.Mends = append(q.Mends, Mend{Slip: SlipNone, Label: "It is right as it stands", Command: o.amend(r, "--sure")})
	return q
}

// askTenfold asks after a unit: of one layer, where that alone makes the difference.
func (o *outlook) askTenfold(q *Question, r *reading, was string, say func(string, ...any), mend func(label, command string)) {
	if r.former != nil {
		if i := r.slipLayer; i >= 0 {
			say(" is %s deep%s, since layer %d is %s thick. Was its unit mistaken, cm for mm?", o.say.Length(r.depth()), was, i+1, o.say.Length(r.core.Layers[i].ThicknessMM))
			mend("Yes, make that layer a tenth as thick", o.amend(r, retyped(r.core.Layers, i)))
			q.Mends[0].Layer, q.Mends[0].Alone = i, true
			return
		}
	}
	switch {
	case was != "":
		say(" is %s deep, some ten times as deep as the one before%s. Was mm typed as cm?", o.say.Length(r.depth()), was)
	case r.named.mulm > 0:
		say(" is %s deep with %s of mulm, more than such a bed has. Was mm typed as cm?", o.say.Length(r.depth()), o.say.Length(r.named.mulm))
	default:
		say(" is %s deep, more than such a bed is. Was mm typed as cm?", o.say.Length(r.depth()))
	}
	mend("Yes, make it a tenth as thick", o.amend(r, "--times 0.1"))
}

// retyped are layers as a command takes them, one of them a tenth as thick.
func retyped(list []layers.Layer, thin int) string {
	parts := make([]string, len(list))
	for i, l := range list {
		mm := l.ThicknessMM
		if i == thin {
			mm /= 10
		}
		parts[i] = strings.TrimSpace(strconv.FormatFloat(mm, 'f', -1, 64) + "mm " + l.Color.String() + " " + l.Band.String())
		parts[i] = "'" + parts[i] + "'"
	}
	return strings.Join(parts, " ")
}

// amend is the command that changes a reading's core.
func (o *outlook) amend(r *reading, change string) string {
	return o.command("core amend", "--station "+Quoted(r.core.Station)+" --date "+r.core.Date.String()+" "+change)
}

// enter is the command that enters what a reading's slip says was done before it.
func (o *outlook) enter(r *reading) string {
	event := Mend{Slip: r.slip}.Event(r.core.Date)
	return o.command("event add", string(event.Kind)+" --date "+event.Date.String())
}

func (o *outlook) command(verb, rest string) string {
	return "panecore " + verb + " " + Quoted(o.tank.ID) + " " + rest
}

// Quoted is an argument of a command as a shell takes it: as it is where that can't mislead one.
func Quoted(argument string) string {
	plain := func(r rune) bool {
		return r == '-' || r == '_' || r == '.' || r == '/' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z'
	}
	if strings.IndexFunc(argument, func(r rune) bool { return !plain(r) }) < 0 && !strings.HasPrefix(argument, "-") {
		return argument
	}
	return "'" + strings.ReplaceAll(argument, "'", `'\''`) + "'"
}

// unsure counts what the draws come to under each name of the layers that are in doubt.
type unsure []unsureLayer

type unsureLayer struct {
	drawer *drawer
	layer  int
	under  [palette.Unknown + 1]underName
}

// underName is what the draws come to in which a layer has one name.
type underName struct {
	ended [len(actionOrder)]int
	mulm  float64 // mm, summed
}

func (u *underName) draws() int { return total(u.ended) }

// share is how many of the draws ended in an action, as a part of all.
func (u *underName) share(a Action) float64 { return float64(u.ended[placeOf(a)]) / float64(u.draws()) }

// hangsShare is how much less often the draws must end in an advice under a second name for it
// to hang on the name, as a share of them (assumption).
const hangsShare = 0.3

// meanMulm is the mean of the core's mulm, mm; meaningful where there are draws.
func (u *underName) meanMulm() float64 { return u.mulm / float64(u.draws()) }

func newUnsure(drawers []*drawer) (list unsure) {
	for _, d := range drawers {
		if d.core.Sure {
			continue
		}
		for i, name := range d.reading.names {
			if d.match.Probability(i, name) < 1-worthDoubting {
				list = append(list, unsureLayer{drawer: d, layer: i})
			}
		}
	}
	return list
}

// note notes what the draw at hand ended in.
func (u unsure) note(a Action) {
	for i := range u {
		l := &u[i]
		if l.drawer.stood == l.drawer {
			under := &l.under[l.drawer.names[l.layer]]
			under.ended[placeOf(a)]++
			under.mulm += l.drawer.drawn.mulm
		}
	}
}

// nameQuestion asks after the layer on whose name the most hangs: the advice, or else so much
// mulm that a slip is suspected from there on. Of several in one core it is the uppermost,
// which settles those below.
func (o *outlook) nameQuestion() (q Question, ok bool) {
	most := 0
	for i := range o.unsure {
		l := &o.unsure[i]
		first := l.drawer.reading.names[l.layer]
		all := 0
		for b := range l.under {
			all += l.under[b].draws()
		}
		for b := range l.under {
			n := l.under[b].draws()
			if palette.Band(b) == first || l.under[first].draws() == 0 || float64(n) < worthDoubting*float64(all) {
				continue
			}
			weight, hangs := l.hangs(first, palette.Band(b), o.say)
			if weight > most && (weight > 1 || float64(n) >= worthAsking*float64(all)) {
				most, q, ok = weight, o.askName(l, first, palette.Band(b), hangs), true
			}
		}
	}
	return q, ok
}

// worthAsking is the least probability of a second name that is asked after where only the mulm
// hangs on it (assumption: no keeper wants to be asked of every shade).
const worthAsking = 0.25

// hangs says what hangs on which of two names a layer has; the weight is zero where nothing
// does.
func (l *unsureLayer) hangs(first, second palette.Band, say layers.Units) (weight int, words string) {
	a, b := &l.under[first], &l.under[second]
	one, other := mostOf(a.ended), mostOf(b.ended)
	if one != other && a.share(one)-b.share(one) >= hangsShare {
		return 2, fmt.Sprintf("The advice hangs on it: %s or %s.", one, other)
	}
	if one, other := a.meanMulm(), b.meanMulm(); math.Abs(one-other) > leastMoved {
		return 1, fmt.Sprintf("The mulm hangs on it: about %s or %s.", say.Length(one), say.Length(other))
	}
	return 0, ""
}

func (o *outlook) askName(l *unsureLayer, first, second palette.Band, hangs string) Question {
	r := l.drawer.reading
	which := fmt.Sprintf("layer %d", l.layer+1)
	if l.layer == 0 {
		which = "the top layer"
	}
	q := Question{Station: r.core.Station, Date: r.core.Date, Text: fmt.Sprintf("%s Is %s at %s (%s to %s, %s, read on %s) %s or %s?",
		hangs, which, r.core.Station, o.say.Number(r.edges[l.layer]), o.say.Length(r.edges[l.layer+1]), r.core.Layers[l.layer].Color, r.core.Date, first, second)}
	for _, band := range []palette.Band{first, second} {
		q.Mends = append(q.Mends, Mend{
			Slip: SlipName, Label: "It is " + band.String(), Layer: l.layer, Band: band,
			Command: o.amend(r, fmt.Sprintf("--name %d=%s", l.layer+1, band)),
		})
	}
	return q
}

func total(ended [len(actionOrder)]int) (n int) {
	for _, k := range ended {
		n += k
	}
	return n
}

// mostOf is what most of the draws ended in.
func mostOf(ended [len(actionOrder)]int) Action {
	best := 0
	for i, n := range ended {
		if n > ended[best] {
			best = i
		}
	}
	return actionOrder[best]
}
