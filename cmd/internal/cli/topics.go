package cli

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"

	"panecore/layers"
)

// newTopics are help texts that belong to no command.
func newTopics() []*cobra.Command {
	return []*cobra.Command{
		{Use: "logbook", Short: "The logbook document that interpret reads", Long: logbookTopic},
		{Use: "limits", Short: "The numbers at which the rules of the advice begin to hold", Long: limitsTopic()},
		{Use: "exit-codes", Short: "What the program's exit codes mean", Long: exitCodesTopic},
	}
}

// limitsTopic lists every limit with its default, range and mark.
func limitsTopic() string {
	var b strings.Builder
	b.WriteString(`Limits

A tank may set any of these under "limits" in the logbook document, as in
"limits": {"mulm_mm": 60}. A number of its own is taken to the letter; a default
is a rule of thumb and counted with some slack.
`)
	for _, rule := range layers.LimitRules() {
		fmt.Fprintf(&b, "\n  %-26s %g %s (%g to %g)\n", rule.Name, rule.Default, rule.Unit, rule.Min, rule.Max)
		for line := range strings.SplitSeq(ansi.Wordwrap(rule.Rule+"; "+rule.Source, 70, ""), "\n") {
			fmt.Fprintf(&b, "    %s\n", line)
		}
	}
	return strings.TrimSuffix(b.String(), "\n")
}

const exitCodesTopic = `Exit codes

  0  done; also where whoever reads the output stopped early
  1  the machine or the program failed: a file that may not be read, a full disk
  2  bad usage or bad input: one line a fault on standard error that names the
     file, the field, what was found and what is wanted; nothing on standard
     output

Findings, JSON and help go to standard output, everything else to standard
error.`

const logbookTopic = `The logbook document

A JSON file with the readings of one tank or many. Lengths are millimetres,
temperatures Celsius, dates YYYY-MM-DD, total ammonia mg N/L. A smallest one:

  {"format": "panecore/1",
   "tanks": [
     {"id": "hall", "set_up": "2024-10-12",
      "native": [{"name": "pale sand", "kind": "sand", "hex": "#d9cba6"}],
      "cores": [
        {"date": "2026-05-01", "station": "front",
         "layers": [
           {"thickness_mm": 12, "hex": "#8b5e3c"},
           {"thickness_mm": 4, "hex": "#b4552a"},
           {"thickness_mm": 30, "hex": "#3d3c33"}]}]}]}

A tank
  id, name        each tank has an id of its own
  set_up          the day the bed was laid
  vessel          {"shape": "box", "length_mm": 600, "width_mm": 300,
                  "water_depth_mm": 280} or {"shape": "cylinder",
                  "diameter_mm": 220, "water_depth_mm": 400}
  flow            still, livestock (moved by animals only), bubbled or pumped
  burrowers       true or false
  rooted_plants   true or false
  native          the substrates as they were laid: name, kind (sand, gravel,
                  clay, soil, granules), hex on set-up day, thickness_mm
  limits          numbers of its own for the rules, such as {"mulm_mm": 60}
  cores, water, events   the records

A core: one reading of the side view at a marked place, the station
  date, station, layers from the bed surface down
  lit             whether light reaches the glass there
  signs           gas-bubbles, egg-smell, plant-melt, dead-animal, gasping,
                  white-threads, roots-deep, burrowers
  note

A layer
  thickness_mm, hex   as seen
  band            only where the keeper is certain: mulm-light, mulm-dark, rust,
                  black, grey, film-green, film-dark, mat-white, native, unknown
  note

A water test: date, time (HH:MM), ph, temperature_c, total_ammonia_mg_l,
oxygen_mg_l; what was not measured is left out.

An event: date, kind (stir, siphon, water-change, top-up-substrate, replant,
dead-animal, plant-melt, note), share (0 to 1), depth_mm, note.

An unknown field is an error. What is left out is not guessed: the findings say
what they could not know.`
