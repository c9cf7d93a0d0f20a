package timeline

import "fmt"

// Align is the part of the cores that is level in a timeline; the surface where it is empty.
type Align string

// The alignments.
const (
	AlignSurface Align = "surface" // the ruler shows depths
	AlignFloor   Align = "floor"   // the lowest point seen: the bed grows upward, as behind the glass
)

// ParseAlign reads "surface" or "floor".
func ParseAlign(s string) (Align, error) {
	switch a := Align(s); a {
	case AlignSurface, AlignFloor:
		return a, nil
	}
	return "", fmt.Errorf("found alignment %q, want surface or floor", s)
}
