// Package testscene renders test photos of aquarium beds seen through the side pane,
// with all that is true of them. It is for tests only and is not linked into the
// program.
//
// A Scene lists everything that is in a picture: the layers, the light, what stands
// in front of the bed, the camera and the keeper's hand. Scene.Render paints the pane
// upright and unrolled in linear reflectance (stage), measures the truth on what was
// painted, then lights it, blurs it, exposes it and writes a JPEG. A scene gives the
// same bytes every time; renders share nothing and may run side by side.
//
// Units: millimetres on the pane, unless a name says pixels (Px); colours of the
// pane are linear reflectances of 0 to 1 in the primaries of sRGB. Every number in
// this package that shapes a look is an assumption; colours of bands are named with
// the lists they stand in.
package testscene
