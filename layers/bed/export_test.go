package bed

// Advance is the oxygen so many hours after a time in hours since lights on.
func (d Day) Advance(oxygen, from, hours float64) float64 {
	after, _ := d.advance(oxygen, from, hours)
	return after
}

// Halved is the day in half the steps that it takes.
func (d Day) Halved() Day {
	d.Step = d.step() / 2
	return d
}
