package bed_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"panecore/layers/bed"
)

// trace is the oxygen that a microelectrode just tells from none, mg/L (1 µmol/L; from memory).
const trace = 0.032

// monod is the steady oxygen in a bed whose uptake slows as oxygen runs out, R C/(Km + C), under a supply
// through its boundary layer: the flux into it, g O2/m²/d, and the depth, m, at which no more than
// trace is left. No reduced substances rise from below.
//
// Finite volumes, solved by Newton's method from a bed without oxygen: uptake bends down with
// oxygen, so the steps only climb and cannot pass the answer.
func monod(b bed.Bed, oxygen, halfSaturation float64) (uptake, depth float64) {
	const perLayer = 400
	var width, demand, passes []float64 // passes: from the middle of the cell above, or the water, m/d
	half := b.Boundary / b.Diffusivity
	for _, l := range b.Layers {
		g := l.Porosity * b.Diffusivity / (1 - math.Log(l.Porosity*l.Porosity))
		for range perLayer {
			w := l.Thickness / perLayer
			width, demand = append(width, w), append(demand, l.Demand)
			passes = append(passes, 1/(half+w/(2*g)))
			half = w / (2 * g)
		}
	}
	n := len(width)
	c, upper, right := make([]float64, n), make([]float64, n), make([]float64, n)
	for range 100 {
		// Thomas's elimination of the tangent at c, then back.
		var moved float64
		for i := range n {
			below := 0.0
			if i+1 < n {
				below = passes[i+1]
			}
			room := halfSaturation + c[i]
			slope := demand[i] * width[i] * halfSaturation / (room * room)
			diagonal := passes[i] + below + slope
			r := slope*c[i] - demand[i]*width[i]*c[i]/room
			if i == 0 {
				r += passes[0] * oxygen
			} else {
				diagonal -= passes[i] * upper[i-1]
				r += passes[i] * right[i-1]
			}
			upper[i], right[i] = below/diagonal, r/diagonal
		}
		for i, next := n-1, 0.0; i >= 0; i-- {
			next = right[i] + upper[i]*next
			moved = max(moved, math.Abs(next-c[i]))
			c[i] = next
		}
		if moved < 1e-10 {
			break
		}
	}
	for i := range n {
		if c[i] <= trace {
			break
		}
		depth += width[i]
	}
	return passes[0] * (oxygen - c[0]), depth
}

// TestMonod_oneLayer holds monod against the flux into one deep layer, which is known: by F dF = g R(C) dC,
//
//	F² = 2 g R (C0 − Km ln(1 + C0/Km))
func TestMonod_oneLayer(t *testing.T) {
	b := bed.Bed{Layers: []bed.Layer{{Thickness: 0.01, Porosity: 0.9, Demand: 500}}, Diffusivity: bed.OxygenDiffusivity(25)}
	g := 0.9 * b.Diffusivity / bed.SquaredTortuosity(0.9)
	for _, km := range []float64{1e-4, 0.1, 0.5} {
		got, _ := monod(b, 6, km)
		want := math.Sqrt(2 * g * 500 * (6 - km*math.Log(1+6/km)))
		within(t, got, want, 1e-3*want)
	}
}

// TestProfile_besideMonod measures what it costs to let layers take up oxygen at their full rate until it is
// gone (Limits of Bed.fed), where in truth uptake slows with a half-saturation of 0.1 mg/L (3 µmol/L,
// Soetaert et al. 1996, Geochim. Cosmochim. Acta 60:1019), 0.2 (activated sludge, Henze et al.
// 1987) or, at the most, 0.5 mg/L; all from memory. Bacteria by themselves manage with 0.002 to
// 0.007 mg/L (Tiano et al. 2014, PLoS ONE, e105399).
//
// The stacks are those of TestProfile_asFiniteVolumes whose oxygen does not reach the floor, without
// reduced substances. The bottom is that of water that gets its oxygen as a gently moved tank's
// of 30 cm does.
func TestProfile_besideMonod(t *testing.T) {
	exchange := bed.Gentle.Exchange()
	water := 1/exchange.Transfer.Default + 0.3/exchange.MixingDark.Default // d/m
	for _, c := range []struct {
		halfSaturation       float64
		uptake, uptakeFar    float64 // Monod's over the model's: the median, and what one stack in ten is beyond
		depth, depthFar      float64 // likewise, down to a trace
		bottom, bottomAtMost float64 // what the bottom holds more, mg/L: the median and the most
	}{
		{0.1, 0.97, 0.935, 1.11, 1.22, 0.01, 0.06},
		{0.2, 0.95, 0.895, 1.21, 1.47, 0.015, 0.1},
		{0.5, 0.90, 0.81, 1.46, 2.09, 0.03, 0.2},
	} {
		t.Run(fmt.Sprint(c.halfSaturation), func(t *testing.T) {
			rng := rand.New(rand.NewPCG(4, 200))
			var uptake, depth, bottom []float64
			for range 200 {
				b := randomBed(rng)
				b.Reduced = 0
				oxygen := 2 + 10*rng.Float64()
				p := b.Profile(oxygen)
				if p.ToFloor {
					continue
				}
				u, d := monod(b, oxygen, c.halfSaturation)
				uptake, depth = append(uptake, p.Uptake/u), append(depth, d/p.Penetration)

				tank := b
				tank.Boundary += water * b.Diffusivity
				u, _ = monod(tank, 8, c.halfSaturation)
				bottom = append(bottom, (tank.Profile(8).Uptake-u)*water)
			}
			for _, list := range [][]float64{uptake, depth, bottom} {
				slices.Sort(list)
			}
			n := len(uptake)
			median, far := n/2, n*9/10
			t.Logf("%d stacks: uptake %.3f, %.3f in one of ten, %.3f at the least; depth %.2f, %.2f, %.2f at the most; bottom +%.3f, %.3f at the most mg/L",
				n, 1/uptake[median], 1/uptake[far], 1/uptake[n-1], depth[median], depth[far], depth[n-1], bottom[median], bottom[n-1])
			within(t, 1/uptake[median], c.uptake, 0.01)
			within(t, 1/uptake[far], c.uptakeFar, 0.01)
			within(t, depth[median], c.depth, 0.02)
			within(t, depth[far], c.depthFar, 0.03)
			within(t, bottom[median], c.bottom, 0.003)
			inside(t, "what the bottom holds more", bottom[n-1], 0, c.bottomAtMost)
		})
	}
}
