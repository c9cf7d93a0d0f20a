package records

import (
	"errors"
	"fmt"
	"slices"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/palette"
)

// fromTable stands in the place of layers that a table on standard input holds.
const fromTable = "-"

// readLayers reads layers as they are typed, one an argument, or a table of them.
func readLayers(s *shell.Shell, args []string, swatches []logbook.Prototype) ([]layers.Layer, error) {
	if slices.Equal(args, []string{fromTable}) {
		return readSheet(s, swatches)
	}
	var list []layers.Layer
	var faults []string
	for i, arg := range args {
		layer, err := layers.ParseLayer(arg, named(swatches))
		if err != nil {
			faults = append(faults, fmt.Sprintf("layer %d, %v", i+1, err))
		}
		list = append(list, layer)
	}
	if faults != nil {
		return nil, &shell.InputError{Faults: faults}
	}
	return list, nil
}

func readSheet(s *shell.Shell, swatches []logbook.Prototype) ([]layers.Layer, error) {
	list, err := layers.ReadSheet(s.Stdin("a table of layers"), named(swatches))
	var faults layers.Faults
	switch {
	case errors.As(err, &faults):
		return nil, shell.BadInput(shell.StdinName, faults)
	case err != nil:
		return nil, fmt.Errorf("%s: %w", shell.StdinName, err)
	}
	return list, nil
}

// named looks up the colours that the keeper calls by name.
func named(swatches []logbook.Prototype) func(name string) (palette.Color, bool) {
	return func(name string) (palette.Color, bool) {
		i := slices.IndexFunc(swatches, func(p logbook.Prototype) bool { return p.Name == name })
		if i < 0 {
			return palette.Color{}, false
		}
		return swatches[i].Color, true
	}
}
