// Package pen writes figures as files. A [Figure] is a list of marks in millimetres, which
// WriteSVG, WritePNG and WritePDF write alike; the same marks give the same bytes. The package
// also holds what all pictures share: inks, letters, the grain of bands, rulers and labels
// that keep apart.
package pen
