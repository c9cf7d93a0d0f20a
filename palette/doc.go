// Package palette says what the colours in a bed mean. It knows the bands (band.go), the colours
// they show (prototypes.go) and how often one lies under another (order.go), and gives every layer
// of a Column a probability for each band:
//
//	matcher := palette.NewMatcher(native, own)
//	match := matcher.Match(column)
//	names := match.Names()                        // one band a layer
//	p := match.Probability(2, palette.Rust)       // 0 to 1, of the third layer
//
// A layer's colour is compared with the prototypes by CIEDE2000; its thickness, its place and the
// layers above and below count too. A layer's name is its likeliest band; a label given by the
// keeper is certain, and tells in what light a photo was taken. What labels in other photos teach
// (teach.go, known.go) goes into NewTaughtMatcher.
package palette
