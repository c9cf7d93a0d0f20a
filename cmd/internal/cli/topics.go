package cli

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/palette"
)

// newTopics are help texts without a command.
func newTopics() []*cobra.Command {
	return []*cobra.Command{
		{Use: "logbook", Short: "The logbook document that interpret reads", Long: logbookTopic()},
		{Use: "limits", Short: "The numbers at which the rules of the advice apply", Long: limitsTopic()},
		{Use: "method", Short: "How the numbers are made, and how far to trust them", Long: methodTopic},
		{Use: "photos", Short: "How to take a photo that can be read, and how to mark it", Long: photosTopic},
		{Use: "exit-codes", Short: "What the program's exit codes mean", Long: exitCodesTopic},
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
	return strings.TrimSuffix(b.String(), "\n")
}

const exitCodesTopic = `Exit codes

  0  done, even if the reader of the output stopped early
  1  the machine or the program failed: a file that may not be read, a full disk
  2  bad usage or bad input: one line per fault on standard error, with the
     file, the field, what was found and what is wanted; nothing on standard
     output
  3  the photo can't be read honestly: one line on standard error that says why
     and what would help
  4  'panecore overview --due' found tanks due for a reading, and lists them

Findings, JSON and help go to standard output, everything else to standard
error.`

const photosTopic = `How to take a photo that can be read

Before
  Mark the station on the glass and take the photo there each time. Keep it
  covered between readings: algae on lit glass hide the bed. Wipe the pane,
  outside and inside, and let what that stirs up settle.
  Tape a grey card and a ruler flat on the glass next to the strip, the ruler
  upright. A card whose reflectance is known (18 %, or a lightness of L=66) is
  best; a sheet of white paper is better than nothing. The page that 'panecore
  sheet' makes has a ruler and grey steps to print and cut out.
Taking it
  No flash. Use daylight or a white lamp from the side; switch the tank's lamp
  off or put a sheet of paper in front of it, and hang something dark behind you
  if you see yourself in the pane. Hold the camera level with the bed and square
  to the pane, a forearm away, and focus on the grains.
  The card must be neither overexposed nor in shadow. Use the camera's own app
  and no filter; save as JPEG.
Marking it
  Open the photo in any viewer that shows the pixel under the pointer.
  --strip    a part of the pane without plants, glare, ruler or card, 15 mm wide
             or more, from a little above the bed down to the floor
  --surface  the row where the bed begins, roughly
  --ruler    two points of the ruler, one above the other and far apart, and the
             length between them
  --neutral  a box inside the card
Checking it
  --overlay FILE.png draws the edges, the names and what was masked on the
  photo. If they are wrong, mark another strip, or enter the layers yourself
  with 'panecore core add'; 'panecore swatch' reads a colour for that.`

const methodTopic = `How the numbers are made, and how far to trust them

The advice
  panecore draws two thousand possible truths behind your readings: what each
  layer may be, how far the ruler was misread, how far a spot at the glass may
  differ from the whole floor. The rules judge each one. "86 of 100 draws" is
  the share that ended in this advice: how clear the reading is, not how right
  the rules are. A single station, an old reading or a doubtful one is never
  called clear. "Common practice, no source" after a rule means that keepers
  say so and nobody has measured it. Most of the rules' numbers are rules of
  thumb and vary by 10 % in the draws, unless you set your own.
  Three numbers decide: the colour oxic depth, the mulm, and how fast it
  grows. Each comes with the range that holds it with a probability of 90 %.
  "See to the water first" replaces all that when animals gasped, when one
  died and something else is wrong, when a test passed a limit for oxygen or
  ammonia, or when the pH or the temperature was deadly. The draws don't
  matter here: doubt about layers makes gasping animals no less urgent. Until
  the water is right again, no advice and no rehearsal allows a hand in the
  bed.
  Reports and the page judge as of today, interpret as of each tank's newest
  record; --as-of changes that. Notices say what is not known and how to find
  out. "asked" is what only you can settle, with a command for each answer.
  Until then a core that does not fit, or one from a photo that is not
  reliable, counts in half of the draws and in no trend.
The drawings
  Letters or a grain fill each band, so that it can be read without colour. An
  arrow or a bracket marks the colour oxic depth, a dashed line where
  dissolved oxygen ends according to the model. Two names beside a layer mean
  that the first is not certain.
What each layer is
  Its colour is compared with known colours ('panecore bands' lists them) and
  with your native ones; then the usual order and thickness of bands name the
  whole column at once. Your own label is taken as certain; a film on the
  glass is not a layer. Colour alone cannot tell iron sulphide from humus or
  dark soil, and warm or dim light darkens brown: add native colours, and read
  in daylight.
Colour oxic depth
  The lower edge of the rust front, or else the top of the first black or grey
  band. It is how deep oxygen has ever reached. Dissolved oxygen itself ends
  within a few millimetres of mud.
Trends
  The median slope between readings of one station, 14 days or more apart,
  with no siphoning between them. Its range also covers other names of the
  layers. Thickness is not mass: mulm packs and decays, and growth levels off,
  so a forecast beyond the length of the record says so. Stations count as
  independent; where they disagree, each is named and the range spans them.
Ammonia
  The un-ionised share by Emerson et al. 1975, and the long-term limit of
  EIFAC 1970 for fresh-water fish. It was set for wild waters; staying below
  it does not prove that a fish is safe.
Oxygen
  Worked out for the dark, from the surface through the water and the still
  film on the bed into the layers. A test before the lights come on (03:00 to
  10:00, with its time) replaces the model; one at another time, or without a
  time, is only an upper bound. Roots, snails and bubbles carry oxygen deeper.
  The result is good to a factor of about two.
Rehearsals
  What the hand frees goes into the water and uses up oxygen over hours and
  days, which comes back through the water's surface. It is an upper bound
  from assumed ranges: nobody has measured aquarium mulm. What decides is
  nearly always the iron sulphide in the black zone, not the ammonia.
Photos
  Ranges cover the tracing of edges, their unevenness, the scale and the
  names.`

// bandsTold lists the bands for the logbook topic, beside the field's name.
func bandsTold() string {
	const margin, width = "\n                  ", 62 // together 80 characters
	var names []string
	for _, band := range palette.Bands() {
		names = append(names, band.String())
	}
	list := "only where the keeper is certain: " + strings.Join(names, ", ")
	return strings.ReplaceAll(wrapped(list, width), "\n", margin)
}

// fieldsTold lists the fields of a record and what each may hold.
func fieldsTold[R any](before string, fields []layers.Field[R], after string) string {
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

func logbookTopic() string {
	return `The logbook document

A JSON file with the readings of one tank or many. Lengths are in millimetres,
temperatures in Celsius, dates YYYY-MM-DD, total ammonia in mg N/L. A short one:

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
  limits          its own numbers for the rules, such as {"mulm_mm": 60}
  cores, water, events   the records

A core: one reading of the side view at a marked place, the station
  date, station, layers from the bed surface down
  lit             whether light reaches the glass there
  signs           gas-bubbles, egg-smell, plant-melt, dead-animal, gasping,
                  white-threads, roots-deep, burrowers
  note
  sure            true: the keeper was asked whether it is right and said yes
  photo           the photo it was read from and what that leaves in doubt, as
                  'panecore photo --tank' files it; reliable is false there if
                  the layers may be wrong

A layer
  thickness_mm, hex   as seen
  band            ` + bandsTold() + `
  note

` + fieldsTold("A water test: ", layers.WaterFields(), "; what was not measured is left out.") + `

` + fieldsTold("An event: ", layers.EventFields(), ".") + `

An unknown field is an error. What is left out is not guessed: the findings say
what they could not know.`
}
