package records

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
)

// question is one of those that the command asks for a core.
type question uint8

// The questions, in the order in which they are asked.
const (
	askStation question = iota
	askDate
	askLayer // again and again, with askBand in turn
	askBand
	askLit
	askSigns
	askNote
	askDoubt // only of a core that does not fit the record
	asked    // nothing is left to ask
)

// stepBack is the answer that goes a step back. It is no word, because a station
// may well be called "back".
const stepBack = "<"

// dialogue asks a keeper for a core, question by question.
type dialogue struct {
	*shell.Shell
	in       *bufio.Reader
	tank     layers.Tank
	named    func(string) (palette.Color, bool)
	matcher  *palette.Matcher
	settings reports.Settings
	given    [asked]bool // what flags have answered

	step
	past []step
}

// step is a question and what is known of the core when it is asked.
type step struct {
	at     question
	core   layers.Core
	events []layers.Event // to be entered with it
}

// askCore asks for all of a core that no flag has said, and for the events that it turns out
// to lack.
func askCore(cmd *cobra.Command, s *shell.Shell, book *logbook.Book, tank layers.Tank, swatches []logbook.Prototype, core layers.Core) (layers.Core, []layers.Event, error) {
	d := &dialogue{Shell: s, in: bufio.NewReader(s.Env.Stdin), tank: tank, named: named(swatches), step: step{core: core}, settings: reports.DefaultSettings()}
	if err := s.Settle(cmd.Context(), book, &d.settings, false); err != nil {
		return core, nil, err
	}
	d.matcher = infer.NewMatcher(tank, d.settings.Own(tank.ID))
	for question, flags := range map[question][]string{
		askStation: {"station"}, askDate: {"date"}, askLit: {"lit", "unlit"}, askSigns: {"sign"}, askNote: {"note"},
	} {
		d.given[question] = slices.ContainsFunc(flags, cmd.Flags().Changed)
	}
	if err := d.keyFault(core); err != nil {
		return core, nil, shell.BadUsage(cmd, "%v", err)
	}
	err := d.run()
	return d.core, d.events, err
}

func (d *dialogue) run() error {
	d.say("A core of %s, from the bed surface down.", d.tank.ID)
	d.say("Enter takes what is in [brackets], %s goes a step back,", stepBack)
	d.say("Ctrl-C stops and leaves the logbook as it is.")
	err := d.enter(d.ungiven(d.step))
	for err == nil && d.at != asked {
		err = d.answer()
	}
	return err
}

// answer asks the question at hand and goes where its answer leads. One that makes no
// sense leads nowhere.
func (d *dialogue) answer() error {
	answer, err := d.ask(d.prompt())
	switch {
	case err != nil:
		return err
	case answer == stepBack:
		return d.back()
	}
	next := d.step
	if d.at == askDoubt {
		err = d.takeDoubt(answer, &next)
	} else {
		next.at, err = d.take(answer, &next.core)
	}
	if err != nil {
		d.say("  %v", err)
		return nil
	}
	d.past = append(d.past, d.step)
	return d.enter(d.ungiven(next))
}

// ungiven is the first step from one on whose question is to be asked: no flag has answered
// it, and what it asks is in doubt.
func (d *dialogue) ungiven(at step) step {
	for at.at != asked && d.given[at.at] || at.at == askDoubt && len(d.doubts(at)) == 0 {
		at.at++
	}
	return at
}

func (d *dialogue) back() error {
	last := len(d.past) - 1
	if last < 0 {
		d.say("  this is the first question")
		return nil
	}
	former := d.past[last]
	d.past = d.past[:last]
	return d.enter(former)
}

// enter comes to a question, and shows what helps to answer it.
func (d *dialogue) enter(to step) error {
	from := d.step
	d.step = to
	former, ok := d.former()
	switch {
	case len(to.core.Layers) > len(from.core.Layers):
		return d.showMeanings(to.core)
	case to.at == askLayer && len(to.core.Layers) == 0 && ok:
		d.say("The core of %s before:", to.core.Station)
		return d.compare(former)
	case (from.at == askLayer || d.mended(from)) && to.at > askBand && ok:
		return d.compare(to.core, former)
	case (from.at == askLayer || d.mended(from)) && to.at > askBand:
		return d.compare(to.core)
	}
	return nil
}

func (d *dialogue) say(format string, args ...any) { fmt.Fprintf(d.Env.Stderr, format+"\n", args...) }

// ask writes a prompt and reads the answer, a line without blanks around.
func (d *dialogue) ask(prompt string) (string, error) {
	fmt.Fprint(d.Env.Stderr, prompt+": ")
	line, err := d.in.ReadString('\n')
	switch {
	case err == nil || errors.Is(err, io.EOF) && line != "":
		return strings.TrimSpace(line), nil
	case errors.Is(err, io.EOF):
		d.say("")
		return "", shell.BadInput(shell.StdinName, errors.New("found its end before the last answer, want one: nothing was added"))
	}
	return "", fmt.Errorf("%s: %w", shell.StdinName, err)
}
