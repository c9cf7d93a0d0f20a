package palette

// Prototype is one colour that a band is known to show.
type Prototype struct {
	Band   Band
	Kind   string  // native bands only: what the substrate is, e.g. "sand"
	Color  Color   // as it is seen under neutral light
	Spread float64 // standard deviation, CIEDE2000 units
	Source string  // where the colour comes from, or "assumption"
}

// Prototypes lists the built-in colour prototypes, grouped by band.
func Prototypes() []Prototype { return nil }
