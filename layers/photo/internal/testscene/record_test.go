package testscene

import "math"

// record is a truth in the form that the scorer of practice photos reads.
type record struct {
	Difficulty  Difficulty     `json:"difficulty"`
	Expect      string         `json:"expect"`
	Why         string         `json:"why,omitempty"`
	Scene       string         `json:"scene"`
	Seed        uint64         `json:"seed"`
	Width       int            `json:"width"`
	Height      int            `json:"height"`
	Orientation int            `json:"exif_orientation"`
	Picks       picks          `json:"picks"`
	PxPerMM     float64        `json:"px_per_mm"`
	SurfaceY    float64        `json:"surface_true_y"`
	StripTop    string         `json:"strip_top"`
	DepthMM     float64        `json:"depth_mm"`
	Layers      []layerRecord  `json:"layers"`
	OxicMM      *float64       `json:"oxic_depth_mm"`
	MulmMM      float64        `json:"mulm_mm"`
	Native      string         `json:"native"`
	NativeTyped string         `json:"native_typed"`
	NativeKind  string         `json:"native_kind"`
	NeutralY    float64        `json:"neutral_reflectance"`
	NeutralL    float64        `json:"neutral_lab_L"`
	Conditions  map[string]any `json:"conditions"`
}

type picks struct {
	Strip    [4]float64 `json:"strip"`
	SurfaceY float64    `json:"surface_y"`
	Ruler    [5]float64 `json:"ruler"`
	Neutral  [4]float64 `json:"neutral"`
}

type layerRecord struct {
	Band       string  `json:"band"`
	Thickness  float64 `json:"thickness_mean_mm"`
	Thinnest   float64 `json:"thickness_min_mm"`
	Thickest   float64 `json:"thickness_max_mm"`
	Top        float64 `json:"top_mm"`
	Transition float64 `json:"transition_mm"`
	Hex        string  `json:"hex_true"`
	Kind       string  `json:"native_kind,omitempty"`
	Cover      float64 `json:"cover,omitempty"`
}

// hundredth rounds as the practice photos' numbers are.
func hundredth(x float64) float64 { return math.Round(100*x) / 100 }

func (s Scene) record(t Truth) record {
	r := record{
		Difficulty: s.Difficulty, Expect: "read", Why: t.Why, Scene: s.Name, Seed: s.Seed, Width: t.Width, Height: t.Height, Orientation: s.Orientation,
		Picks:   picks{Strip: t.Strip, SurfaceY: t.SurfaceY, Neutral: t.Neutral},
		PxPerMM: t.PxPerMM, SurfaceY: hundredth(t.TrueSurfaceY), StripTop: "surface", DepthMM: hundredth(t.DepthMM), MulmMM: hundredth(t.MulmMM), Layers: []layerRecord{},
		Native: t.Native.String(), NativeTyped: t.NativeTyped.String(), NativeKind: t.NativeKind, NeutralY: t.CardY, NeutralL: hundredth(lightness(t.CardY)),
		Conditions: map[string]any{
			"light": s.Light.Lamp, "rgb_gain": s.Light.Tint, "ev": s.Camera.EV, "haze": s.Light.Haze, "glare_share": t.GlareShare, "roll_deg": s.RollDeg,
			"wave_mm": s.WaveMM, "grain_mm": s.Native.GrainMM, "blur_px": s.Camera.BlurPx, "jpeg_quality": s.Camera.Quality, "tone_curve": s.Camera.Curve, "algae": s.Things.Algae, "native": s.Native.Name,
		},
	}
	if t.Refuse {
		r.Expect = "refuse"
	}
	if s.Strip.AboveMM > 0 {
		r.StripTop = "water"
	}
	for i, v := range t.Ruler {
		r.Picks.Ruler[i] = math.Round(10*v) / 10
	}
	r.Picks.Ruler[4] = t.RulerMM
	if t.OxicMM != nil {
		oxic := hundredth(*t.OxicMM)
		r.OxicMM = &oxic
	}
	for _, l := range t.Layers {
		r.Layers = append(r.Layers, layerRecord{
			Band: l.Band.String(), Thickness: hundredth(l.ThicknessMM), Thinnest: hundredth(l.Thinnest), Thickest: hundredth(l.Thickest),
			Top: hundredth(l.TopMM), Transition: hundredth(l.EdgeMM), Hex: l.Color.String(), Kind: l.NativeKind, Cover: hundredth(l.Cover),
		})
	}
	return r
}

// lightness is CIE L* of a reflectance.
func lightness(y float64) float64 { return 116*math.Cbrt(y) - 16 }
