// Package testscene renders test photos of aquarium beds, seen through the side pane, and says
// what is true of them. It is for tests only and is not linked into the program.
//
// A Scene lists everything in a picture: the layers, the light, the things in front of the bed,
// the camera and the errors of the keeper's picks. Scene.Render paints the pane upright and
// unrolled in linear reflectance (stage), measures the truth on it, then lights it, blurs it,
// exposes it and writes a JPEG. A scene gives the same bytes every time, and renders may run
// side by side.
//
// Lengths are millimetres on the pane, unless a name says pixels (Px). Colours are linear
// reflectances of 0 to 1 in the primaries of sRGB. Every number here that shapes a look is an
// assumption.
package testscene
