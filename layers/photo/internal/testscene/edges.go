package testscene

// edges are the rows of each layer's upper edge and of the floor, column by column: edges[k][x],
// px.
func (st *stage) edges() [][]float32 {
	s := st.scene
	out := make([][]float32, len(s.Layers)+1)
	wave := float32(s.WaveMM) / 2 * st.ppm
	depth := st.surface
	for k := range out {
		out[k] = make([]float32, st.w)
		own, shared := st.noise(uint32(200+k)), st.noise(200)
		for x := range out[k] {
			mm := float32(x) / st.ppm
			sway := 0.75*swell(shared, mm) + 0.65*swell(own, mm)
			if k == 0 {
				sway *= 0.7
			}
			out[k][x] = depth + wave*sway
			if k > 0 { // a layer may thin out but not vanish
				out[k][x] = max(out[k][x], out[k-1][x]+0.4*float32(s.Layers[k-1].MM)*st.ppm)
			}
		}
		if k < len(s.Layers) {
			depth += float32(s.Layers[k].MM) * st.ppm
		}
	}
	for x := range out[len(s.Layers)] {
		out[len(s.Layers)][x] = st.floor
	}
	return out
}

// swell is a wave along the bed, mostly within -1.2 to 1.2: long heaps, short humps.
func swell(n noise, mm float32) float32 {
	return 1.3*n.at(mm/36, 0.5) + 0.75*n.at(mm/14, 7.5) + 0.3*n.at(mm/5.5, 13.5)
}

// loose counts the top layers of loose matter rather than grains: mulm, and mats and films on
// it.
func (s *Scene) loose() int {
	n := 0
	for k, l := range s.Layers {
		if l.Band.IsMulm() || (k == 0 && l.Band.IsOverlay() && l.Cover >= 1) {
			n = k + 1
		}
	}
	return n
}
