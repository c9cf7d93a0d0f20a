package web

import (
	"maps"
	"net/http"
	"net/url"
	"reflect"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/reports/judge"
	"panecore/reports/web/site"
)

func ptr[T any](x T) *T { return &x }

// newUnreadServer is a page on tanks without cores, of which there is little to work out.
func newUnreadServer(t *testing.T, u layers.Units) *testPage {
	p := newTestServerOn(t, Options{Units: u})
	for i := range p.store.tanks {
		p.store.tanks[i].Cores = nil
	}
	return p
}

// waterMark is what the page tells a water test by.
func waterMark(test layers.WaterTest) string {
	return site.Fingerprint(layers.Tank{Water: []layers.WaterTest{test}})
}

func TestWater_addsAndRemoves(t *testing.T) {
	p := newUnreadServer(t, layers.MM)
	form := url.Values{"date": {"2026-11-01"}, "time": {"19:15"}, "ph": {"7,4"}, "temp": {"24"}, "ammonia": {"1.5"}, "oxygen": {""}}
	p.want(p.follow(p.post("/tank/loft-jar/water", form)), http.StatusOK, "The water test of 2026-11-01 is saved.", "2026-11-01 19:15", "pH 7.4, 24 °C, total ammonia 1.5 mg N/L, un-ionised 0.020 mg N/L")
	tank, _ := p.store.Tank(t.Context(), "loft-jar")
	want := layers.WaterTest{Date: p.store.today, Time: "19:15", PH: ptr(7.4), TemperatureC: ptr(24.0), TotalAmmonia: ptr(1.5)}
	if got := tank.Water[len(tank.Water)-1]; !reflect.DeepEqual(got, want) {
		t.Errorf("kept %+v, want %+v", got, want)
	}
	p.want(p.post("/tank/loft-jar/water", form), http.StatusConflict, "already", `value="7,4"`, `<details class="add" open>`)
	remove := url.Values{"seen": {waterMark(want)}}
	p.want(p.get("/tank/loft-jar"), http.StatusOK, `name="seen" value="`+waterMark(want)+`"`)
	p.want(p.follow(p.post("/tank/loft-jar/water/remove", remove)), http.StatusOK, "is removed")
	p.want(p.post("/tank/loft-jar/water/remove", remove), http.StatusNotFound, "changed or removed elsewhere")
}

// A water test that another window removed and entered anew is not removed by a page that
// shows the one before.
func TestWater_removesWhatWasShown(t *testing.T) {
	p := newUnreadServer(t, layers.MM)
	form := url.Values{"date": {fakeToday}, "ph": {"7.4"}}
	p.follow(p.post("/tank/loft-jar/water", form))
	shown := p.store.tanks[1].Water
	remove := url.Values{"seen": {waterMark(shown[len(shown)-1])}}
	p.follow(p.post("/tank/loft-jar/water/remove", remove))
	form.Set("ph", "8.1")
	p.follow(p.post("/tank/loft-jar/water", form))
	p.want(p.post("/tank/loft-jar/water/remove", remove), http.StatusNotFound, "changed or removed elsewhere")
	if now := p.store.tanks[1].Water; len(now) != len(shown) {
		t.Error("the other's water test was removed")
	}
}

// A bare temperature is in the unit that the form names, which goes with that of lengths.
func TestWater_degrees(t *testing.T) {
	p := newUnreadServer(t, layers.Inches)
	p.want(p.get("/tank/loft-jar"), http.StatusOK, "Temperature, °F")
	p.follow(p.post("/tank/loft-jar/water", url.Values{"date": {"2026-11-01"}, "temp": {"77"}}))
	p.follow(p.post("/tank/loft-jar/water", url.Values{"date": {"2026-11-01"}, "time": {"08:00"}, "temp": {"25C"}}))
	p.want(p.follow(p.post("/tank/loft-jar/water", url.Values{"date": {"2026-11-01"}, "time": {"09:00"}, "temp": {"77.5"}})), http.StatusOK, ">77.5 °F<", ">77 °F<")
	tank, _ := p.store.Tank(t.Context(), "loft-jar")
	tank.Water = tank.Water[:len(tank.Water)-1]
	for _, test := range tank.Water[len(tank.Water)-2:] {
		if *test.TemperatureC != 25 {
			t.Errorf("%s: %v °C, want 25", test.Time, *test.TemperatureC)
		}
	}
}

func TestWater_faults(t *testing.T) {
	for name, test := range map[string]struct {
		change url.Values
		want   string
	}{
		"nothing measured": {url.Values{"ph": {""}}, `id="water-ph-fault"`},
		"no number":        {url.Values{"ph": {"acid"}}, `found &#34;acid&#34;, want a number`},
		"out of range":     {url.Values{"ph": {"14"}}, "found 14, want a number from 4 to 11"},
		"too hot":          {url.Values{"temp": {"95"}}, `id="water-temp-fault"`},
		"a day to come":    {url.Values{"date": {"2026-11-02"}}, `id="water-date-fault"`},
		"no day":           {url.Values{"date": {""}}, `id="water-date-fault"`},
		"no time":          {url.Values{"time": {"noon"}}, `id="water-time-fault"`},
	} {
		t.Run(name, func(t *testing.T) {
			p := newUnreadServer(t, layers.MM)
			form := url.Values{"date": {"2026-11-01"}, "ph": {"7"}, "oxygen": {""}}
			maps.Copy(form, test.change)
			p.want(p.post("/tank/loft-jar/water", form), http.StatusUnprocessableEntity, test.want, "Nothing was saved yet")
			if len(p.store.past) > 0 {
				t.Error("kept all the same")
			}
		})
	}
}

// A test is said to pass a limit, and which, from just beyond it on, and not before.
func TestWater_overLimit(t *testing.T) {
	read, err := judge.ReadAmmonia(1.5, 7.4, 24)
	if err != nil {
		t.Fatal(err)
	}
	const unionised, total, oxygen = "un-ionised ammonia above the limit of", "total ammonia above the limit of", "oxygen below the limit of"
	for name, test := range map[string]struct {
		limit  layers.Limit
		value  float64
		passed string // empty: none is
	}{
		"un-ionised just over":  {layers.LimitAmmonia, 0.9999 * read.UnionisedN, unionised + " 0.020 mg N/L"},
		"un-ionised as much":    {layers.LimitAmmonia, read.UnionisedN, ""},
		"un-ionised just under": {layers.LimitAmmonia, 1.0001 * read.UnionisedN, ""},
		"total just over":       {layers.LimitTotalAmmonia, 1.4999, total + " 1.4999 mg N/L"},
		"total as much":         {layers.LimitTotalAmmonia, 1.5, ""},
		"total just under":      {layers.LimitTotalAmmonia, 1.5001, ""},
		"oxygen just under":     {layers.LimitOxygen, 3.2001, oxygen + " 3.2001 mg/L"},
		"oxygen as much":        {layers.LimitOxygen, 3.2, ""},
		"oxygen just over":      {layers.LimitOxygen, 3.1999, ""},
	} {
		t.Run(name, func(t *testing.T) {
			p := newUnreadServer(t, layers.MM)
			p.store.tanks[0].Limits = layers.Limits{test.limit: test.value}
			p.store.tanks[0].Water = []layers.WaterTest{{Date: p.store.today, PH: ptr(7.4), TemperatureC: ptr(24.0), TotalAmmonia: ptr(1.5), OxygenMGPerL: ptr(3.2)}}
			page := p.get("/tank/wheel-room")
			p.want(page, http.StatusOK, test.passed)
			list := strings.ReplaceAll(page.Body.String(), site.Unbroken, " ")
			list = list[strings.Index(list, `<h2 id="water">`):]
			for _, other := range []string{unionised, total, oxygen} {
				if strings.Contains(list, other) != (test.passed != "" && strings.HasPrefix(test.passed, other)) {
					t.Errorf("whether it says %q is wrong", other)
				}
			}
		})
	}
	p := newUnreadServer(t, layers.MM)
	p.follow(p.post("/tank/loft-jar/water", url.Values{"date": {"2026-11-01"}, "ph": {"8.4"}, "temp": {"26"}, "ammonia": {"2.5"}, "oxygen": {"2.9"}}))
	p.want(p.get("/tank/loft-jar"), http.StatusOK, `<span class="over">un-ionised ammonia above the limit of 0.021 mg N/L`, `<span class="over">total ammonia above the limit of 2 mg N/L`, `<span class="over">oxygen below the limit of 3 mg/L`)
}
