package timeline

import "fmt"

// Align is what the cores of a timeline stand in line by; the surface where it is empty.
type Align string

// The alignments.
const (
	AlignSurface Align = "surface" // what is read off are depths
	AlignFloor   Align = "floor"   // the lowest that was seen: the bed grows upward, as behind the glass
)

// ParseAlign reads "surface" or "floor".
func ParseAlign(s string) (Align, error) {
	switch a := Align(s); a {
	case AlignSurface, AlignFloor:
		return a, nil
	}
	return "", fmt.Errorf("found alignment %q, want surface or floor", s)
}
