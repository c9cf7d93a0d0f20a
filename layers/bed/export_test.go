package bed

// Dip is the most that a release takes off the oxygen in the water within some days,
// mg/L, if there is that much, and the time in days when it does: exact, where Dips looks
// at a few times only.
func (w Water) Dip(r Release, days float64) (oxygen, at float64) {
	o := w.owing(r)
	at = o.deepest(days)
	return o.deficit(at), at
}

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
