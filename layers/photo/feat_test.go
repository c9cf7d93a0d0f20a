package photo

import (
	"encoding/json"
	"fmt"
	"os"
	"sort"
	"testing"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

func TestFeat(t *testing.T) {
	dir := os.Getenv("DEV")
	if dir == "" {
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
		data, _ := os.ReadFile(dir + "/" + n)
		p, err := picture.Decode(data)
		if err != nil {
			continue
		}
		k := tr.Picks
		f, _ := newFrame(Ruler{k.Ruler[0], k.Ruler[1], k.Ruler[2], k.Ruler[3], k.Ruler[4]})
		c, err := newCorrection(p, []Card{{Box: Box{k.Neutral[0], k.Neutral[1], k.Neutral[2], k.Neutral[3]}}})
		if err != nil {
			fmt.Println(n, err)
			continue
		}
		y0 := min(k.Strip[1], max(k.Surface_y-5*f.pxPerMM, 0))
		g := sample(p, f, k.Strip[0]+k.Strip[2]/2, y0, k.Strip[2], k.Strip[1]+k.Strip[3]-y0)
		fl := newField(g, c)
		click := (k.Surface_y - y0) / f.pxPerMM / fl.pitch
		s := findStrata(fl, click)
		nc, _ := palette.ParseColor(tr.Native_typed)
		m := palette.NewMatcher([]palette.Baseline{{Kind: "x", Color: nc}}, nil)
		nm := s.name(s.bed(), m, c.unknown(), c.doubt())
		v := s.sight(g, nm.layers)
		var mp float64
		for i := range nm.layers {
			mp += nm.match.Probability(i, nm.names[i]) / float64(len(nm.layers))
		}
		fmt.Printf("%-14s %-10s mp %.2f n %d %+.2v REF %v DOUBT %v\n", n, tr.Difficulty, mp, len(nm.layers), v, v.refuse(nm), v.doubts(nm))
	}
}
