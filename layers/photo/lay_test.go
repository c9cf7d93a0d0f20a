package photo

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"testing"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// leaning is a plane seen by a camera to the side and above, scaled px per mm in its middle, which is seen at a point.
func leaning(px float64, middle Point, yaw, pitch, roll float64) Plane {
	const distance, rad = 320.0, math.Pi / 180 // mm, degrees
	sy, cy := math.Sincos(yaw * rad)
	sp, cp := math.Sincos(pitch * rad)
	sr, cr := math.Sincos(roll * rad)
	az, bz := -sy*cp/distance, sp/distance
	turn := func(x, y float64) (float64, float64) { return px * (cr*x - sr*y), px * (sr*x + cr*y) }
	ax, ay := turn(cy, sy*sp)
	bx, by := turn(0, cp)
	return Plane{ax + middle.X*az, bx + middle.X*bz, middle.X, ay + middle.Y*az, by + middle.Y*bz, middle.Y, az, bz}
}

// seenThrough is a picture of a pane, px per mm with a point at the plane's origin, seen through the plane.
func seenThrough(t *testing.T, file []byte, px float64, origin Point, h Plane) *picture.Picture {
	t.Helper()
	src, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	back := h.back()
	out := image.NewRGBA(src.Bounds())
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			mx, my := back.at(Point{float64(x) + 0.5, float64(y) + 0.5})
			r, g, b, _ := src.At(int(math.Floor(origin.X+mx*px)), int(math.Floor(origin.Y+my*px))).RGBA()
			out.SetRGBA(x, y, color.RGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, out, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return decodedFile(t, b.Bytes())
}

// A bed seen from the side reads as it does seen straight on, and is drawn where it is seen.
func TestRead_tilted(t *testing.T) {
	scene := photoOf(t, "easy-01")
	picks, matcher := picksOf(scene.Truth), matcherFor(scene.Truth.NativeTyped)
	straight, err := Read(decodedFile(t, scene.JPEG), picks, matcher)
	if err != nil {
		t.Fatal(err)
	}
	px := straight.PxPerMM
	origin := Point{picks.Strip.X + picks.Strip.W/2, picks.Strip.Y + picks.Strip.H/2}
	for _, lean := range fewer(t, [3]float64{18, -12, 6}, [3]float64{0, 0, 0}, [3]float64{-20, 15, -4}) {
		h := leaning(px, origin, lean[0], lean[1], lean[2])
		p := seenThrough(t, scene.JPEG, px, origin, h)
		half := picks.Strip.H / 2 / px
		above, below := h.At(0, -half), h.At(0, half)
		surface := h.At(0, (*picks.SurfaceY-origin.Y)/px).Y
		across, _ := h.Scale(0, -half)
		wide := picks.Strip.W / px * across
		tilted := Picks{Strip: Box{above.X - wide/2, above.Y, wide, below.Y - above.Y}, SurfaceY: &surface, Plane: &h}
		got, err := Read(p, tilted, matcher)
		if err != nil {
			t.Fatalf("%v: %v", lean, err)
		}
		if len(got.Core.Layers) != len(straight.Core.Layers) {
			t.Errorf("%v: found %d layers, want %d", lean, len(got.Core.Layers), len(straight.Core.Layers))
			continue
		}
		for i, l := range got.Core.Layers[:len(got.Core.Layers)-1] {
			if want := straight.Core.Layers[i].ThicknessMM; math.Abs(l.ThicknessMM-want) > 0.6 {
				t.Errorf("%v: found layer %d %.2f mm thick, want %.2f", lean, i+1, l.ThicknessMM, want)
			}
		}
		for i, edge := range got.Edges {
			middle, want := edge[len(edge)/2], straight.Edges[i][len(straight.Edges[i])/2]
			x, y := h.Of(middle)
			if off := math.Hypot(origin.X+x*px-want.X, origin.Y+y*px-want.Y) / px; off > 1.2 {
				t.Errorf("%v: edge %d is drawn %.1f mm beside where it is seen straight on", lean, i, off)
			}
		}
	}
}

// A plane that no camera sees is refused, whatever it is.
func TestRead_planeRefused(t *testing.T) {
	p := coloured(t, 200, 200, func(int, int) palette.Color { return brown })
	for name, h := range map[string]Plane{
		"nothing": {}, "not a number": {math.NaN(), 0, 0, 0, 1, 0, 0, 0}, "on its side": leaning(8, Point{100, 100}, 0, 0, 90),
		"horizon": {8, 0, 100, 0, 8, 100, 0, -0.3}, "small": leaning(0.2, Point{100, 100}, 0, 0, 0), "edge on": leaning(8, Point{100, 100}, 89, 0, 0),
	} {
		if r, err := Read(p, Picks{Strip: Box{60, 10, 80, 180}, Plane: &h}, matcherFor(brown)); err == nil {
			t.Errorf("%s: read %v, want it refused", name, r)
		}
	}
}

// Whatever plane a tag or a kept photo gives, a strip is proposed or not, and read or refused.
func FuzzRead_plane(f *testing.F) {
	pictures, picks := smallPictures(f)
	matcher := matcherFor(palette.Color{R: 215, G: 200, B: 165})
	for _, h := range []Plane{leaning(2, Point{60, 50}, 10, 5, 3), leaning(2, Point{60, 50}, -80, 40, 170), {}, {1e308, 0, 0, 0, 1e308, 0, 1, 1}, {2, 0, 0, 0, 2, 0, -0.02, 0}} {
		f.Add(h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7])
	}
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, h, i float64) {
		k := picks[1]
		k.Plane = &Plane{a, b, c, d, e, g, h, i}
		if s := Propose(pictures[0], Picks{Ruler: k.Ruler, Plane: k.Plane, Neutral: k.Neutral}).Picks.Strip; !(s.W >= 0 && s.H >= 0) {
			t.Errorf("%v: proposed the strip %v", k.Plane, s)
		}
		r, err := Read(pictures[1], k, matcher)
		if err != nil {
			var refusal *Refusal
			if !errors.As(err, &refusal) {
				t.Errorf("%v: refused as %v, want a refusal", k.Plane, err)
			}
			return
		}
		for _, l := range r.Core.Layers {
			if !(l.ThicknessMM > 0) {
				t.Errorf("%v: found a layer %v mm thick", k.Plane, l.ThicknessMM)
			}
		}
	})
}
