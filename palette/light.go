package palette

// Light is what a column's colours share and a photo leaves open: how strongly the bed was
// lit beside what its colours say, and how much stray light veils them. The zero value is
// full knowledge.
type Light struct {
	EV        float64 // most likely exposure to add to the colours, photographic stops (log2)
	EVDoubt   float64 // its standard deviation, stops
	Veil      float64 // most likely stray light in the colours, in linear light of 0 to 1
	VeilDoubt float64 // its standard deviation
}
