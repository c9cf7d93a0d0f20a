package timeline

import "fmt"

// Align is what the cores of a timeline stand in line by.
type Align uint8

// The alignments.
const (
	AlignSurface Align = iota // the bed surfaces: what is read off are depths
	AlignFloor                // the lowest that was seen: the bed grows upward, as behind the glass
)

// ParseAlign reads "surface" or "floor".
func ParseAlign(s string) (Align, error) {
	switch s {
	case "surface":
		return AlignSurface, nil
	case "floor":
		return AlignFloor, nil
	}
	return AlignSurface, fmt.Errorf("found alignment %q, want surface or floor", s)
}

// String writes the alignment as ParseAlign reads it.
func (a Align) String() string {
	if a == AlignFloor {
		return "floor"
	}
	return "surface"
}
