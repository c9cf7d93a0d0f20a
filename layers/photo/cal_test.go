package photo

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"sort"
	"testing"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

func TestCal(t *testing.T) {
	var zs, zsf, zt []float64
	for _, dir := range []string{"/work/shared/photos", "/tmp/scenes"} {
		if os.Getenv("CAL") == "" {
			t.Skip()
		}
		raw, _ := os.ReadFile(dir + "/truth.json")
		var all map[string]devTruth
		json.Unmarshal(raw, &all)
		var names []string
		for n := range all {
			names = append(names, n)
		}
		sort.Strings(names)
		for _, n := range names {
			tr := all[n]
			if tr.Difficulty == "unreadable" {
				continue
			}
			data, _ := os.ReadFile(dir + "/" + n)
			p, err := picture.Decode(data)
			if err != nil {
				continue
			}
			k := tr.Picks
			nc, _ := palette.ParseColor(tr.Native_typed)
			m := palette.NewMatcher([]palette.Baseline{{Kind: "x", Color: nc}}, nil)
			r, err := Read(p, Picks{Strip: Box{k.Strip[0], k.Strip[1], k.Strip[2], k.Strip[3]}, SurfaceY: &k.Surface_y,
				Ruler:   Ruler{k.Ruler[0], k.Ruler[1], k.Ruler[2], k.Ruler[3], k.Ruler[4]},
				Neutral: []Card{{Box: Box{k.Neutral[0], k.Neutral[1], k.Neutral[2], k.Neutral[3]}}}}, m)
			if err != nil {
				fmt.Println(n, err)
				continue
			}
			// surface: mean of polyline y against true
			ys := 0.0
			pts := r.Edges[0]
			for _, q := range pts {
				ys += q.Y / float64(len(pts))
			}
			f, _ := newFrame(Ruler{k.Ruler[0], k.Ruler[1], k.Ruler[2], k.Ruler[3], k.Ruler[4]})
			_ = f
			depth := 0.0
			var found []float64
			var sd []float64
			for _, l := range r.Core.Layers {
				depth += l.ThicknessMM
				found = append(found, depth)
				sd = append(sd, l.Edge.ErrorMM)
			}
			surfErr := math.NaN()
			// estimate surface error as median of (found - true) over matched
			var ds []float64
			for i := 1; i < len(tr.Layers); i++ {
				best, at := 2.5, -1
				for j := 0; j+1 < len(found); j++ {
					if d := math.Abs(found[j] - tr.Layers[i].Top_mm); d < best {
						best, at = d, j
					}
				}
				if at >= 0 {
					e := found[at] - tr.Layers[i].Top_mm
					tot := math.Sqrt(sd[at]*sd[at] + r.Core.Photo.Surface.ErrorMM*r.Core.Photo.Surface.ErrorMM)
					zt = append(zt, e/tot)
					ds = append(ds, e)
				}
			}
			if len(ds) > 1 {
				surfErr = -median(append([]float64{}, ds...))
				zsf = append(zsf, surfErr/r.Core.Photo.Surface.ErrorMM)
				fmt.Printf("%s surf %.2f sd %.2f |", n, surfErr, r.Core.Photo.Surface.ErrorMM)
				for i, d := range ds {
					_ = i
					fmt.Printf(" %.2f", d+surfErr)
				}
				fmt.Printf(" | sd")
				for _, v := range sd {
					fmt.Printf(" %.2f", v)
				}
				fmt.Println()
				for i, d := range ds {
					_ = i
					zs = append(zs, d+surfErr)
				}
			}
		}
	}
	q := func(v []float64) {
		a := make([]float64, len(v))
		for i := range v {
			a[i] = math.Abs(v[i])
		}
		sort.Float64s(a)
		fmt.Printf("n %d |z| p50 %.2f p80 %.2f p90 %.2f p95 %.2f\n", len(a), a[len(a)/2], a[len(a)*8/10], a[len(a)*9/10], a[len(a)*95/100])
	}
	q(zs)
	q(zsf)
	q(zt)
}
