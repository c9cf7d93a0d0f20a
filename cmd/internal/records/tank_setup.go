package records

import (
	"fmt"
	"maps"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/judge"
)

// setup is what the flags say of a tank. A flag with an empty text takes its field
// back to "not given".
type setup struct {
	edits  []func(*layers.Tank) // in the order of the flags
	native []layers.Native      // all of them: they are told anew
	sure   bool                 // the measures of the vessel are right, whatever they are
}

func addSetupFlags(cmd *cobra.Command, o *setup) {
	flags := cmd.Flags()
	flags.SortFlags = false
	for _, f := range layers.TankFields() {
		switch {
		case f.Name == "vessel":
			o.addVesselFlags(flags)
		case f.Flag != "":
			flags.Func(f.Flag, f.Usage, func(text string) error {
				o.edits = append(o.edits, func(t *layers.Tank) { _ = f.Parse(t, text) }) // tried below
				return f.Parse(new(layers.Tank), text)
			})
		}
		if f.Choices != nil {
			shell.Complete(cmd, f.Flag, f.Choices...)
		}
	}
	flags.Func("native", "a `SUBSTRATE` as it was laid: colour, kind and perhaps thickness and name, as in '#d9cba6,sand,60mm,pale sand'; "+
		"the kind is "+shell.Join(layers.Kinds(), ", ")+"; once for each", o.addNative)
	flags.BoolVar(&o.sure, "sure", false, "the measures of the vessel are right: don't ask about them")
	flags.Func("limit", "a `LIMIT` of the tank's own, as in mulm_mm=60 (see 'panecore help limits'); once for each",
		o.addLimit)
}

// addVesselFlags adds those of the vessel, whose measures are typed together.
func (o *setup) addVesselFlags(flags *pflag.FlagSet) {
	setupFlag(o, flags, "box", "inside `SIZE` of a box, length x width, as in 600x300mm", parseBox, setShape)
	setupFlag(o, flags, "cylinder", "inside `DIAMETER` of a cylinder, as in 220mm", parseCylinder, setShape)
	setupFlag(o, flags, "water-depth", "`DEPTH` of the water above the bed, as in 280mm", layers.ParseSize, setWaterDepth)
}

// setupFlag is a flag that puts a value into a tank, or its zero value for an
// empty text.
func setupFlag[T any](o *setup, flags *pflag.FlagSet, name, usage string, parse func(string) (T, error), put func(*layers.Tank, T)) {
	flags.Func(name, usage, func(text string) error {
		var value T
		if text != "" {
			var err error
			if value, err = parse(text); err != nil {
				return err
			}
		}
		o.edits = append(o.edits, func(t *layers.Tank) { put(t, value) })
		return nil
	})
}

func (o *setup) says(cmd *cobra.Command) bool {
	return len(o.edits) > 0 || cmd.Flags().Changed("native")
}

// PutOn returns the tank with what the flags say of it. The tank given is not changed.
func (o *setup) putOn(cmd *cobra.Command, tank layers.Tank) (layers.Tank, error) {
	tank.Limits = maps.Clone(tank.Limits)
	for _, edit := range o.edits {
		edit(&tank)
	}
	if len(tank.Limits) == 0 {
		tank.Limits = nil // as where none was ever told
	}
	if cmd.Flags().Changed("native") {
		tank.Native = o.native
	}
	switch vessel := tank.Vessel; {
	case cmd.Flags().Changed("box") && cmd.Flags().Changed("cylinder"):
		return tank, shell.BadUsage(cmd, "found both --box and --cylinder, want one of them")
	case vessel != nil && vessel.Shape == "":
		return tank, shell.BadUsage(cmd, "found a water depth without a vessel, want --box or --cylinder too")
	case vessel != nil && vessel.WaterDepthMM == 0:
		return tank, shell.BadUsage(cmd, "found a vessel without its water depth, want --water-depth too")
	}
	return tank, nil
}

// askVessel asks, in a note, about measures of a vessel that were likely typed in another unit.
func askVessel(s *shell.Shell, former *layers.Vessel, tank layers.Tank) {
	if q := judge.AskVessel(tank.ID, former, tank.Vessel, s.Units); q != nil {
		s.Note(vesselDoubt(s, q))
	}
}

func vesselDoubt(s *shell.Shell, q *reports.VesselQuestion) string {
	if q.Meant == nil {
		return q.Text
	}
	return q.Text + "\n  " + q.Label + ": " + s.Here(q.Command)
}

// setShape gives a tank another vessel with the depth of water that it has, or none.
func setShape(t *layers.Tank, shape *layers.Vessel) {
	if shape == nil {
		t.Vessel = nil
		return
	}
	vessel := *shape
	if t.Vessel != nil {
		vessel.WaterDepthMM = t.Vessel.WaterDepthMM
	}
	t.Vessel = &vessel
}

func setWaterDepth(t *layers.Tank, mm float64) {
	if t.Vessel == nil && mm == 0 {
		return
	}
	var vessel layers.Vessel
	if t.Vessel != nil {
		vessel = *t.Vessel
	}
	vessel.WaterDepthMM = mm
	t.Vessel = &vessel
}

// parseBox reads two lengths, as in "600x300mm" or "24in x 12in"; one unit serves both.
func parseBox(text string) (*layers.Vessel, error) {
	bad := fmt.Errorf("found %q, want length and width with their unit, as in 600x300mm", text)
	long, wide, ok := strings.Cut(strings.ReplaceAll(text, "×", "x"), "x")
	if !ok {
		return nil, bad
	}
	width, err := layers.ParseSize(wide)
	if err != nil {
		return nil, bad
	}
	length, err := layers.ParseSize(long)
	if err != nil {
		length, err = layers.ParseSize(long + strings.TrimLeft(wide, " +-.,0123456789"))
	}
	if err != nil {
		return nil, bad
	}
	return &layers.Vessel{Shape: layers.Box, LengthMM: length, WidthMM: width}, nil
}

func parseCylinder(text string) (*layers.Vessel, error) {
	diameter, err := layers.ParseSize(text)
	return &layers.Vessel{Shape: layers.Cylinder, DiameterMM: diameter}, err
}

// addNative adds a native substrate; an empty text takes back all before it.
func (o *setup) addNative(text string) error {
	if text == "" {
		o.native = nil
		return nil
	}
	native, err := parseNative(text)
	if err == nil {
		o.native = append(o.native, native)
	}
	return err
}

func parseNative(text string) (n layers.Native, err error) {
	parts := strings.SplitN(text, ",", 3)
	if len(parts) < 2 {
		return n, fmt.Errorf("found %q, want a colour and a kind, as in '#d9cba6,sand'", text)
	}
	if n.Color, err = palette.ParseColor(strings.TrimSpace(parts[0])); err != nil {
		return n, err
	}
	n.Kind = layers.Kind(strings.TrimSpace(parts[1]))
	if len(parts) < 3 {
		return n, nil
	}
	n.Name = strings.TrimSpace(parts[2])
	if strings.IndexAny(n.Name, "0123456789") == 0 { // a thickness, and perhaps a name behind it
		thickness, name, _ := strings.Cut(n.Name, ",")
		n.Name = strings.TrimSpace(name)
		n.ThicknessMM, err = layers.ParseSize(thickness)
	}
	return n, err
}

// addLimit adds a limit; one without a number is taken back.
func (o *setup) addLimit(text string) error {
	name, number, ok := strings.Cut(text, "=")
	if !ok {
		return fmt.Errorf("found %q, want NAME=NUMBER, as in mulm_mm=60", text)
	}
	limit, err := parseLimit(name)
	if err != nil {
		return err
	}
	if number == "" {
		o.edits = append(o.edits, func(t *layers.Tank) { delete(t.Limits, limit) })
		return nil
	}
	value, err := layers.ParseNumber(number)
	if err != nil {
		return err
	}
	o.edits = append(o.edits, func(t *layers.Tank) {
		if t.Limits == nil {
			t.Limits = layers.Limits{}
		}
		t.Limits[limit] = value
	})
	return nil
}

func parseLimit(name string) (layers.Limit, error) {
	var known []string
	for i, rule := range layers.LimitRules() {
		if rule.Name == name {
			return layers.Limit(i), nil
		}
		known = append(known, rule.Name)
	}
	want := "one that 'panecore help limits' lists"
	if near := layers.Nearest(name, known); near != "" {
		want = "a known one: did you mean " + near + "?"
	}
	return 0, fmt.Errorf("found limit %s, want %s", strconv.Quote(name), want)
}
