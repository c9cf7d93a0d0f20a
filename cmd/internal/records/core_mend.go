package records

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/palette"
)

// mend is what puts slips in a core right without typing its layers anew.
type mend struct {
	turn, depths bool
	times        float64 // 0: not given
	names        []layerName
}

// layerName is what the keeper calls a layer.
type layerName struct {
	number int // from 1 at the top
	band   palette.Band
}

// mostTimes is the largest factor of a thickness (assumption: more than any layer that can be
// told by eye bears within the depth of the deepest bed).
const mostTimes = 1e6

func addMendFlags(cmd *cobra.Command, m *mend) {
	flags := cmd.Flags()
	flags.BoolVar(&m.turn, "turn", false, "the layers were typed from the floor up: turn them over")
	flags.Func("times", "every thickness `NUMBER` times as large: 10 or 0.1 where cm and mm were mistaken", shell.Parsed(&m.times, parseTimes))
	flags.BoolVar(&m.depths, "depths", false, "depths of lower edges were typed as thicknesses: take their differences")
	flags.Func("name", "a layer is a band, as `N=BAND`, counted from 1 at the top of the core as amended; once for each", m.addName)
	shell.Complete(cmd, "times", "10", "0.1")
	shell.Complete(cmd, "name") // no file
}

func parseTimes(text string) (float64, error) {
	factor, err := layers.ParseNumber(text)
	if err != nil || !(factor > 0 && factor <= mostTimes) {
		return 0, fmt.Errorf("found %q, want a number above 0 and up to %d, such as 10 or 0.1", text, int(mostTimes))
	}
	return factor, nil
}

// addName reads a layer's name, as in 2=rust.
func (m *mend) addName(text string) error {
	number, name, _ := strings.Cut(text, "=")
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 {
		return fmt.Errorf("found %q, want a layer's number from the top and its band, as in 2=rust", text)
	}
	band, err := palette.ParseBand(strings.ToLower(name))
	if err != nil {
		return err
	}
	if slices.ContainsFunc(m.names, func(l layerName) bool { return l.number == n }) {
		return fmt.Errorf("found layer %d a second time, want it once", n)
	}
	m.names = append(m.names, layerName{n, band})
	return nil
}

// ofAll lists the flags given that change all of a core's layers.
func (m *mend) ofAll() (given []string) {
	for _, flag := range []struct {
		name  string
		given bool
	}{{"--turn", m.turn}, {"--times", m.times != 0}, {"--depths", m.depths}} {
		if flag.given {
			given = append(given, flag.name)
		}
	}
	return given
}

// check refuses more than one change of all layers, of which typing them is another.
func (m *mend) check(cmd *cobra.Command, typed bool) error {
	given := m.ofAll()
	if typed {
		given = append(given, "layers")
	}
	if len(given) > 1 {
		return shell.BadUsage(cmd, "found both %s and %s, want one of them", given[0], given[1])
	}
	return nil
}

// PutOn returns the core with its slips mended.
func (m *mend) putOn(cmd *cobra.Command, core layers.Core) (layers.Core, error) {
	switch {
	case m.turn:
		core.Layers = layers.TurnedOver(core.Layers)
	case m.times != 0:
		core.Layers = layers.Scaled(core.Layers, m.times)
	case m.depths:
		thick, err := layers.FromDepths(core.Layers)
		if err != nil {
			return core, &shell.InputError{Faults: []string{CoreName(core) + ", " + err.Error()}}
		}
		core.Layers = thick
	}
	if len(m.ofAll()) > 0 {
		core.Photo = nil // it shows no layer where it now is
	}
	core.Layers = slices.Clone(core.Layers)
	for _, name := range m.names {
		if n := len(core.Layers); name.number > n {
			return core, shell.BadUsage(cmd, "--name: found layer %d, want 1 to %d", name.number, n)
		}
		core.Layers[name.number-1].Band = name.band
	}
	return core, nil
}
