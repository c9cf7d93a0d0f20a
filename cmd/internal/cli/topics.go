package cli

import (
	_ "embed"
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/palette"
)

// The texts of the topics, except for the one that is a list.
var (
	//go:embed topics/logbook.txt
	logbookText string // see logbookTopic
	//go:embed topics/method.txt
	methodText string
	//go:embed topics/photos.txt
	photosText string
	//go:embed topics/exit-codes.txt
	exitCodesText string
)

// newTopics are help texts without a command.
func newTopics() []*cobra.Command {
	return []*cobra.Command{
		{Use: "logbook", Short: "The logbook document that interpret reads", Long: logbookTopic()},
		{Use: "limits", Short: "The numbers at which the rules of the advice apply", Long: limitsTopic()},
		{Use: "method", Short: "How the numbers are made, and how far to trust them", Long: methodText},
		{Use: "photos", Short: "How to take a photo that can be read, and how to mark it", Long: photosText},
		{Use: "exit-codes", Short: "What the program's exit codes mean", Long: exitCodesText},
	}
}

// limitsTopic lists every limit with its default, range and mark.
func limitsTopic() string {
	var b strings.Builder
	b.WriteString(`Limits

A tank may set any of these under "limits" in the logbook document, for example
"limits": {"mulm_mm": 60}. A number that you set is exact; a default is a rule
of thumb and is varied a little.
`)
	for _, rule := range layers.LimitRules() {
		fmt.Fprintf(&b, "\n  %-26s %g %s (%g to %g)\n", rule.Name, rule.Default, rule.Unit, rule.Min, rule.Max)
		for line := range strings.SplitSeq(ansi.Wordwrap(rule.Rule+"; "+rule.Source, 70, ""), "\n") {
			fmt.Fprintf(&b, "    %s\n", line)
		}
	}
	return b.String()
}

// logbookTopic fills in what the fields and the bands themselves say.
func logbookTopic() string {
	return strings.NewReplacer(
		"BANDS", bandList(),
		"WATER", fieldList("A water test: ", layers.WaterFields(), "; what was not measured is left out."),
		"EVENT", fieldList("An event: ", layers.EventFields(), "."),
	).Replace(logbookText)
}

// bandList lists the bands in the column of the logbook topic.
func bandList() string {
	const margin, width = "\n                  ", 62 // together 80 characters
	var names []string
	for _, band := range palette.Bands() {
		names = append(names, band.String())
	}
	list := "only where the keeper is certain: " + strings.Join(names, ", ")
	return strings.ReplaceAll(wrapped(list, width), "\n", margin)
}

// fieldList lists the fields of a record and what each may hold.
func fieldList[R any](before string, fields []layers.Field[R], after string) string {
	const width = 80
	var told []string
	for _, f := range fields {
		switch {
		case f.Choices != nil:
			told = append(told, f.Name+" ("+strings.Join(f.Choices, ", ")+")")
		case f.Input == layers.InputClock:
			told = append(told, f.Name+" (HH:MM)")
		case f.Unit(layers.MM) == "%":
			told = append(told, f.Name+" (0 to 1)")
		default:
			told = append(told, f.Name)
		}
	}
	return wrapped(before+strings.Join(told, ", ")+after, width)
}

// wrapped breaks text into lines, none of which ends at a dash.
func wrapped(text string, width int) string {
	const dash = "\u2011" // at which no line ends
	return strings.ReplaceAll(ansi.Wordwrap(strings.ReplaceAll(text, "-", dash), width, ""), dash, "-")
}
