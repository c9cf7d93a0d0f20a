package web

import (
	"net/http"
	"testing"

	"panecore/layers"
	"panecore/palette"
)

// A layer becomes the substrate as laid of a tank that has none once it is said what it is, and takes the place of the only
// one once that is confirmed; it needs a grey card, and can be undone.
func TestPhotoNative(t *testing.T) {
	type request struct {
		readRequest
		Layer  int    `json:"layer"`
		Answer string `json:"answer"`
	}
	p := newPhotoServer(t)
	q := request{readRequest: fakeRequest(), Layer: 1}
	at := p.sendPhoto(fakePhoto)
	has := func(want ...layers.Native) {
		t.Helper()
		tank, err := p.store.Tank(t.Context(), q.Tank)
		if err != nil || len(tank.Native) != len(want) || len(want) > 0 && tank.Native[0] != want[0] {
			t.Errorf("the tank's substrates are %+v, %v, want %+v", tank.Native, err, want)
		}
	}
	tank, _ := p.store.Tank(t.Context(), q.Tank)
	tank.Native = nil
	if err := p.store.EditTank(t.Context(), tank); err != nil {
		t.Fatal(err)
	}
	p.want(p.postJSON(at+"/native", q), http.StatusConflict, `"question":"What is the substrate that looks like this, #b06a33?"`, `{"answer":"gravel","label":"gravel"}`)
	has()
	q.Answer = "gravel"
	p.want(p.postJSON(at+"/native", q), http.StatusOK, `is now #b06a33.`)
	rust := layers.Native{Kind: layers.Gravel, Color: palette.Color{R: 0xb0, G: 0x6a, B: 0x33}}
	has(rust)

	q.Layer, q.Answer = 2, ""
	p.want(p.postJSON(at+"/native", q), http.StatusConflict, `noted as #b06a33. Is it #3d3c35, as this layer is?`)
	has(rust)
	q.Answer = "replace"
	p.want(p.postJSON(at+"/native", q), http.StatusOK)
	has(layers.Native{Kind: layers.Gravel, Color: palette.Color{R: 0x3d, G: 0x3c, B: 0x35}})
	change, _, err := p.store.Last(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.store.Undo(t.Context(), change); err != nil {
		t.Fatal(err)
	}
	has(rust)

	q.Picks.Cards = nil
	p.want(p.postJSON(at+"/native", q), http.StatusUnprocessableEntity, "found no grey card to go by")
	q.Tank = ""
	p.want(p.postJSON(at+"/native", q), http.StatusUnprocessableEntity, "choose the tank")
}
