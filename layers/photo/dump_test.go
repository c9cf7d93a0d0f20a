package photo

import (
	"encoding/json"
	"image"
	"image/color"
	"image/png"
	"os"
	"testing"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// draws the field with edges; DEV dir, ONLY name, OUT png
func TestDump(t *testing.T) {
	dir, only, out := os.Getenv("DEV"), os.Getenv("ONLY"), os.Getenv("OUT")
	if out == "" {
		t.Skip()
	}
	raw, _ := os.ReadFile(dir + "/truth.json")
	var all map[string]devTruth
	json.Unmarshal(raw, &all)
	tr := all[only+".jpg"]
	data, _ := os.ReadFile(dir + "/" + only + ".jpg")
	p, _ := picture.Decode(data)
	k := tr.Picks
	f, _ := newFrame(Ruler{k.Ruler[0], k.Ruler[1], k.Ruler[2], k.Ruler[3], k.Ruler[4]})
	c, _ := newCorrection(p, []Card{{Box: Box{k.Neutral[0], k.Neutral[1], k.Neutral[2], k.Neutral[3]}}})
	y0 := min(k.Strip[1], max(k.Surface_y-5*f.pxPerMM, 0))
	g := sample(p, f, k.Strip[0]+k.Strip[2]/2, y0, k.Strip[2], k.Strip[1]+k.Strip[3]-y0)
	fl := newField(g, c)
	s := findStrata(fl, (k.Surface_y-y0)/f.pxPerMM/fl.pitch)
	su := 0
	zoom := 3
	img := image.NewRGBA(image.Rect(0, 0, 2*g.cols*zoom+20, g.rows*zoom))
	for r := range g.rows {
		for col := range g.cols {
			cc := c.apply(g.light[r*g.cols+col]).Color()
			for y := range zoom {
				for x := range zoom {
					img.Set(col*zoom+x, r*zoom+y, color.RGBA{cc.R, cc.G, cc.B, 255})
					img.Set(col*zoom+x+g.cols*zoom+20, r*zoom+y, color.RGBA{cc.R, cc.G, cc.B, 255})
				}
			}
		}
	}
	_ = palette.Native
	wide := float64(g.cols*zoom) / float64(fl.blocks)
	for b := range fl.blocks {
		for e := range s.level {
			cl := color.RGBA{255, 0, 255, 255}
			if e == su {
				cl = color.RGBA{0, 255, 255, 255}
			}
			y := int(s.at[b][e] * float64(zoom))
			for x := int(float64(b) * wide); x < int(float64(b+1)*wide); x++ {
				img.Set(x, y, cl)
				img.Set(x, y+1, cl)
			}
		}
	}
	mark := func(mm float64, cl color.RGBA) {
		y := int(mm / fl.pitch * float64(zoom))
		for x := g.cols * zoom; x < g.cols*zoom+20; x++ {
			img.Set(x, y, cl)
			img.Set(x, y+1, cl)
		}
	}
	surf := (tr.Surface_true_y - y0) / f.pxPerMM
	mark((k.Surface_y-y0)/f.pxPerMM, color.RGBA{255, 255, 0, 255})
	for _, l := range tr.Layers {
		mark(surf+l.Top_mm, color.RGBA{255, 0, 0, 255})
	}
	o, _ := os.Create(out)
	png.Encode(o, img)
	o.Close()
}
