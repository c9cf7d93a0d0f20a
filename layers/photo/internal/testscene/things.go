package testscene

import "math"

// paintThings paints the things in and in front of the bed over it.
func (st *stage) paintThings() {
	th := st.scene.Things
	for range th.Leaves {
		st.fallenLeaf()
	}
	for range th.Pebbles {
		st.pebble()
	}
	for range th.Roots {
		st.root(float32(st.rng.IntN(st.w)), st.surface+st.between(1, 8)*st.ppm, math.Pi/2, st.between(12, 34)*st.ppm, st.between(0.2, 0.45)*st.ppm, 0)
	}
	for range th.Bubbles {
		st.bubbles()
	}
	for range th.Snails {
		st.snail()
	}
	for range th.Stems {
		st.stem()
	}
	st.algae()
	st.frame()
}

// inBed is a random place in the bed, px.
func (st *stage) inBed(from, to float64) (float32, float32) {
	return st.between(0, float64(st.w)), mix(st.surface, st.floor, st.between(from, to))
}

// root paints a root that winds down and forks.
func (st *stage) root(x, y float32, heading float64, length, wide float32, order int) {
	pale := rgb{0.42, 0.36, 0.25}.times(st.between(0.7, 1.2))
	piece := 1.2 * st.ppm
	for gone := float32(0); gone < length; gone += piece {
		heading += float64(st.between(-0.35, 0.35)) + 0.12*(math.Pi/2-heading)
		nx, ny := x+piece*float32(math.Cos(heading)), y+piece*float32(math.Sin(heading))
		if ny > st.floor {
			return
		}
		r := wide * (1 - 0.75*gone/length) * min(1, 0.4+gone/(3*st.ppm))
		st.stroke(x, y, r, nx, ny, r*0.97, brush{pale, 0.6, 0.9})
		x, y = nx, ny
		if order < 2 && st.rng.Float64() < 0.13 {
			st.root(x, y, heading+float64(st.between(-1.1, 1.1)), (length-gone)*0.5, r*0.6, order+1)
		}
	}
}

// pebble paints a large stone against the pane.
func (st *stage) pebble() {
	x, y := st.inBed(0.08, 0.92)
	r := st.between(3, 6.5) * st.ppm
	long, turn := st.between(1.1, 1.5), st.between(-0.5, 0.5)
	stones := [...]rgb{{0.16, 0.17, 0.18}, {0.3, 0.26, 0.2}, {0.22, 0.13, 0.09}, {0.07, 0.08, 0.08}, {0.42, 0.4, 0.36}}
	colour := stones[st.rng.IntN(len(stones))]
	n := st.noise(st.rng.Uint32())
	sin, cos := float32(math.Sin(float64(turn))), float32(math.Cos(float64(turn)))
	reach := int(r*long) + 2
	for j := -reach; j <= reach; j++ {
		for i := -reach; i <= reach; i++ {
			dx, dy := float32(i), float32(j)
			p, q := (dx*cos+dy*sin)/(r*long), (dy*cos-dx*sin)/r
			// The outline is lobed.
			angle := math.Atan2(float64(q), float64(p))
			rim := 1 + 0.08*n.at(float32(math.Cos(angle))*1.3+5, float32(math.Sin(angle))*1.3)
			d2 := (p*p + q*q) / (rim * rim)
			if d2 >= 1 {
				continue
			}
			up := sqrt(1 - d2*0.96)
			lit := 0.45 + 0.6*max(0, (p*cos-q*sin)*st.key[0]+(p*sin+q*cos)*st.key[1]+up*st.key[2])
			grain := 1 + 0.22*n.sum(dx/st.ppm*1.4, dy/st.ppm*1.4, 4)
			soft := clamp((1-sqrt(d2))*r, 0, 1)
			st.over(int(x)+i, int(y)+j, colour.times(lit*grain), soft)
		}
	}
}

// snail paints a ramshorn on the pane or the bed.
func (st *stage) snail() {
	x, y := st.inBed(-0.06, 0.5)
	r := st.between(1.8, 3.8) * st.ppm
	shells := [...]rgb{{0.20, 0.09, 0.04}, {0.33, 0.15, 0.08}, {0.12, 0.09, 0.05}, {0.26, 0.2, 0.1}}
	colour := shells[st.rng.IntN(len(shells))]
	side := float32(1 - 2*st.rng.IntN(2))
	flesh := rgb{0.10, 0.08, 0.06}
	st.curve([3][2]float32{{x - 0.7*r*side, y + 0.8*r}, {x + 0.4*r*side, y + 1.15*r}, {x + 1.25*r*side, y + 0.7*r}}, func(t float32) float32 {
		return 0.3 * r * sqrt(max(0.05, 4*t*(1-t)))
	}, brush{flesh, 0.6, 1})
	st.curve([3][2]float32{{x + 1.15*r*side, y + 0.65*r}, {x + 1.5*r*side, y + 0.5*r}, {x + 1.6*r*side, y + 0.15*r}}, func(float32) float32 { return 0.05 * r }, brush{flesh, 1, 0.9})
	for j := -int(r); j <= int(r); j++ {
		for i := -int(r); i <= int(r); i++ {
			p, q := float32(i)/r*side, float32(j)/r
			d := sqrt(p*p + q*q)
			if d > 1 {
				continue
			}
			// Whorls narrow toward the middle and have growth lines across them.
			angle := float32(math.Atan2(float64(q), float64(p))) / (2 * math.Pi)
			whorl := float32(math.Log2(float64(d+0.04)))*1.3 + angle
			part := whorl - float32(floor(whorl))
			lit := 0.45 + 0.75*sqrt(max(0, 4*part*(1-part))) - 0.35*q
			lit *= 1 + 0.1*float32(math.Sin(float64(angle)*150))
			st.over(int(x)+i, int(y)+j, colour.times(lit), clamp((1-d)*r, 0, 1))
		}
	}
	st.stroke(x-0.3*r, y-0.55*r, 0.08*r, x-0.05*r, y-0.62*r, 0.06*r, brush{rgb{0.8, 0.8, 0.75}, 1, 0.4})
}

// bubbles paints a nest of gas bubbles held between the grains.
func (st *stage) bubbles() {
	x, y := st.inBed(0.15, 0.95)
	for range 1 + st.rng.IntN(5) {
		bx, by := x+st.between(-3, 3)*st.ppm, y+st.between(-1.5, 1.5)*st.ppm
		r := st.between(0.35, 1.3) * st.ppm
		for j := -int(r) - 1; j <= int(r)+1; j++ {
			for i := -int(r) - 1; i <= int(r)+1; i++ {
				d := sqrt(float32(i*i+j*j)) / r
				if d > 1.05 {
					continue
				}
				// Total reflection darkens the rim; the room shows in the middle and the lamp at the top.
				rim := step(0.55, 0.95, d)
				st.over(int(bx)+i, int(by)+j, rgb{0.02, 0.022, 0.025}, 0.65*rim*clamp((1.05-d)*r, 0, 1))
				st.over(int(bx)+i, int(by)+j, rgb{0.5, 0.52, 0.52}, 0.12*(1-rim))
			}
		}
		st.stroke(bx-0.25*r, by-0.45*r, 0.14*r, bx+0.1*r, by-0.5*r, 0.14*r, brush{rgb{0.9, 0.92, 0.95}, 1, 0.85})
	}
}

// fallenLeaf paints a dead, curled leaf in the bed's top, seen from the side.
func (st *stage) fallenLeaf() {
	x, y := st.between(0, float64(st.w)), st.surface+st.between(-1.5, 4)*st.ppm
	long, thick := st.between(6, 15)*st.ppm, st.between(0.5, 1.3)*st.ppm
	rise := st.between(-0.35, 0.15) * long
	brown := rgb{0.10, 0.055, 0.025}.times(st.between(0.6, 1.8))
	n := st.noise(st.rng.Uint32())
	st.curve([3][2]float32{{x, y}, {x + 0.5*long, y + rise}, {x + long, y + st.between(-0.15, 0.1)*long}}, func(t float32) float32 {
		return thick * sqrt(max(0.02, 4*t*(1-t))) * (0.75 + 0.5*n.at(t*9, 0.5))
	}, brush{brown, 0.6, 0.95})
}

// stem paints a plant's stalk between the pane and the bed.
func (st *stage) stem() {
	x, foot := st.between(0, float64(st.w)), st.surface+st.between(2, 16)*st.ppm
	green := greens[st.rng.IntN(4)]
	wide := st.between(0.5, 1.1) * st.ppm
	lean := st.between(-10, 10) * st.ppm
	st.curve([3][2]float32{{x, foot}, {x + 0.2*lean, foot * 0.5}, {x + lean, -5}}, func(t float32) float32 { return wide * (1.1 - 0.3*t) }, brush{green, 0.5, 1})
	for range 3 {
		st.root(x, foot, float64(st.between(0.5, 2.6)), st.between(5, 14)*st.ppm, 0.25*st.ppm, 1)
	}
}

// algae dusts the glass with green.
func (st *stage) algae() {
	cover := float32(st.scene.Things.Algae)
	if cover <= 0 {
		return
	}
	n, fine := st.noise(500), st.noise(501)
	patch := newCoarse(st.w, st.h, func(x, y float32) float32 { return cover * 1.6 * (0.5 + 0.9*n.sum(x/st.ppm/14, y/st.ppm/14, 3)) })
	hue := newCoarse(st.w, st.h, func(x, y float32) float32 { return clamp(0.5+n.at(x/st.ppm/25+9, y/st.ppm/25), 0, 1) })
	for y := range st.h {
		for x := range st.w {
			dust := 0.5 + 0.5*fine.at(float32(x)/st.ppm*2.6, float32(y)/st.ppm*2.6)
			thick := clamp(patch.at(x, y)*(0.6+0.5*dust), 0, 0.97)
			green := rgb{0.07, 0.13, 0.03}.toward(rgb{0.12, 0.11, 0.03}, hue.at(x, y))
			k := y*st.w + x
			st.px[k] = st.px[k].toward(green.times(0.8+0.4*dust), thick)
		}
	}
}

// frame paints the foot of the pane: silicone, the tank's frame and the stand.
func (st *stage) frame() {
	th := st.scene.Things
	colour := linear(th.Frame)
	grain := st.noise(510)
	sill := st.floor + 1.2*st.ppm
	stand := sill + float32(th.FrameMM)*st.ppm
	for y := max(0, int(st.floor)); y < st.h; y++ {
		for x := range st.w {
			row := float32(y) + 0.5
			var c rgb
			switch {
			case row < sill:
				c = rgb{0.015, 0.016, 0.017}.times(1 + 0.3*grain.at(float32(x)/st.ppm/3, row))
			case row < stand:
				t := (row - sill) / (stand - sill)
				c = colour.times(1.25 - 0.5*t + 0.35*step(0.12, 0, t))
			default:
				u, v := float32(x)/st.ppm, (row-stand)/st.ppm
				ring := grain.sum(u/35, v*1.3, 3)
				c = rgb{0.2, 0.11, 0.055}.times((1 + 0.4*ring) * step(-0.5, 2.5, v))
			}
			st.over(x, y, c, clamp(row-st.floor, 0, 1))
		}
	}
}
