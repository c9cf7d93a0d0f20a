package pen

// Apart moves places on a line, given in order, so that they are at least pitch apart and
// lie between low and high, with the least sum of squared moves. There must be room for
// them. It is a monotone regression of the places, each less its index times pitch, by
// pooling neighbours that are out of order (Ayer et al. 1955).
func Apart(wanted []float64, pitch, low, high float64) []float64 {
	type pool struct{ sum, count float64 }
	var pools []pool
	mean := func(i int) float64 { return pools[i].sum / pools[i].count }
	for i, w := range wanted {
		pools = append(pools, pool{w - float64(i)*pitch, 1})
		for n := len(pools) - 1; n > 0 && mean(n-1) > mean(n); n-- {
			pools[n-1].sum += pools[n].sum
			pools[n-1].count += pools[n].count
			pools = pools[:n]
		}
	}
	high -= float64(len(wanted)-1) * pitch
	var places []float64
	for i, p := range pools {
		at := min(max(mean(i), low), high)
		for range int(p.count) {
			places = append(places, at+float64(len(places))*pitch)
		}
	}
	return places
}
