// Package figure draws findings as pictures: a core to scale, a tank's record along
// time, oxygen from the water's surface into the bed, a rehearsal beside its limits, and
// all tanks beside each other. It computes nothing of what it shows.
//
// A [Figure] is a list of marks in millimetres, which WriteSVG, WritePNG and WritePDF
// write alike. The same findings give the same bytes.
package figure
