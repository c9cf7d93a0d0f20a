package bed_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers/bed"
)

// What a disturbance frees: rows of testdata/checks/bed.csv.
var releaseChecks = []check{
	{`rel[12]_tan_mg`, func(t *testing.T, r row) { r.near(t, 1000*r.release().Ammonia) }},
	{`rel[12]_tan_c`, func(t *testing.T, r row) { r.near(t, r.diluted().Ammonia) }},
	{`rel[12]_s_mg`, func(t *testing.T, r row) { r.near(t, 1000*r.release().Sulfide) }},
	{`rel[12]_s_c`, func(t *testing.T, r row) { r.near(t, r.diluted().Sulfide) }},
	{`rel[12]_fes_mol`, func(t *testing.T, r row) { r.near(t, r.release().IronSulfide) }},
	{`rel[12]_o2_fast`, func(t *testing.T, r row) { r.near(t, r.diluted().FastDebt) }},
	{`rel[12]_o2_full`, func(t *testing.T, r row) { // the row leaves out the ammonia
		r.near(t, r.diluted().FullDebt-bed.OxygenPerAmmonia*r.diluted().Ammonia)
	}},
	{`rel[12]_nh3_p7_25`, func(t *testing.T, r row) { r.near(t, r.diluted().Ammonia*bed.UnionisedShare(7, 25)) }},
	{`rel[12]_nh3_p8_25`, func(t *testing.T, r row) { r.near(t, r.diluted().Ammonia*bed.UnionisedShare(8, 25)) }},
	{`rel[12]_h2s_p7_25`, func(t *testing.T, r row) {
		r.near(t, 1000*r.diluted().Sulfide*bed.H2SPerS*bed.UndissociatedShare(7, 25)) // µg/L
	}},
	{"fes_half", func(t *testing.T, r row) { within(t, bed.IronSulfideHalfTime/bed.Minute, r.number(t), 1e-9) }},
	{"fes_48h", func(t *testing.T, r row) {
		days := numbers(t, r.value)[0] * bed.Hour
		inside(t, "debt paid by then", 1-math.Pow(2, -days/bed.SlowHalfTime), 0.5, 1)
	}},
	{"fes_o2_fast", func(t *testing.T, r row) { r.near(t, bed.OxygenPerIronSulfideFast/32.06) }},
	{"fes_o2_full", func(t *testing.T, r row) { r.near(t, bed.OxygenPerIronSulfide/32.06) }},
	{"h2s_o2", func(t *testing.T, r row) { r.near(t, bed.OxygenPerSulfide) }},
	{"nit_o2", func(t *testing.T, r row) { r.near(t, bed.OxygenPerAmmonia) }},
}

// release is that of rows rel1, 10 mm of fresh mulm, and rel2, 10 mm of the black zone
// below it as well.
func (r row) release() bed.Release {
	d := quarter(10 * bed.Millimeter)
	if r.id[:len("rel2")] == "rel2" {
		d.Depth = 20 * bed.Millimeter
	}
	return d.Release(mulmOnBlack())
}

func (r row) diluted() bed.Release { return r.release().In(50 * bed.Liter) }

func quarter(depth float64) bed.Disturbance {
	return bed.Disturbance{Footprint: 0.18, Share: 0.25, Depth: depth, Reaching: 1, Exchangeable: 1, Desorbed: 0.5}
}

func mulmOnBlack() []bed.Layer {
	return []bed.Layer{
		{Thickness: 10 * bed.Millimeter, Porosity: 0.95, Solids: 50, Ammonia: 2, Sulfide: 0.1, IronSulfide: 5},
		{Thickness: 30 * bed.Millimeter, Porosity: 0.70, Solids: 600, Ammonia: 8, Sulfide: 2, IronSulfide: 40},
	}
}

// TestRelease_massBalance: strips of the floor, cuts of the depth and slices of a layer
// add up to the whole to 1e-9; the debt is that of what is freed; dilution keeps mass.
func TestRelease_massBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		layers := drawSediment(t)
		d := drawDisturbance(t, layers)
		whole := d.Release(layers)

		first, second := d, d
		strip := rapid.Float64Range(0, 1).Draw(t, "strip")
		first.Share *= strip
		second.Share *= 1 - strip
		sameRelease(t, "two strips", sum(first.Release(layers), second.Release(layers)), whole)

		upper := d
		upper.Depth *= rapid.Float64Range(0, 1).Draw(t, "cut")
		rest, left := []bed.Layer(nil), upper.Depth
		for _, l := range layers {
			taken := min(left, l.Thickness)
			left -= taken
			l.Thickness -= taken
			rest = append(rest, l)
		}
		lower := d
		lower.Depth -= upper.Depth
		sameRelease(t, "two cuts", sum(upper.Release(layers), lower.Release(rest)), whole)

		siphoned := d
		siphoned.Reaching *= 0.2
		kept := d
		kept.Reaching *= 0.8
		sameRelease(t, "carried off and not", sum(siphoned.Release(layers), kept.Release(layers)), whole)

		volume := rapid.Float64Range(0.001, 2).Draw(t, "volume")
		in := whole.In(volume)
		sameRelease(t, "undiluted", bed.Release{
			Ammonia: in.Ammonia * volume, Sulfide: in.Sulfide * volume, IronSulfide: in.IronSulfide * volume,
			FastDebt: in.FastDebt * volume, FullDebt: in.FullDebt * volume,
		}, whole)

		// 0.75 and 2.25 mol O2 a mole of FeS, 2 a mole of S and of N.
		mol := 0.75 * whole.IronSulfide
		balanced(t, "fast debt", whole.FastDebt, 31.998*mol)
		mol = 2.25*whole.IronSulfide + 2*whole.Sulfide/32.06 + 2*whole.Ammonia/14.007
		balanced(t, "full debt", whole.FullDebt, 31.998*mol)
	})
}

// TestRelease_noMoreThanThere: cutting deeper than the layers frees what all of them
// hold, counted layer by layer.
func TestRelease_noMoreThanThere(t *testing.T) {
	got := quarter(1).Release(mulmOnBlack())
	const area = 0.18 * 0.25
	within(t, got.Ammonia, area*(0.010*0.95*2+0.030*0.70*8)*1.5, 1e-12)
	within(t, got.Sulfide, area*(0.010*0.95*0.1+0.030*0.70*2), 1e-12)
	within(t, got.IronSulfide, area*(0.010*50e3*5+0.030*600e3*40)*1e-6, 1e-12)
}

// TestOxygenAfter_balance: while oxygen is left, the change of the stock is what the
// surface lets in less the debt paid, the refill summed up along the way by Simpson's
// rule, to 1e-9.
func TestOxygenAfter_balance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWater(t)
		r := drawRelease(t, w)
		days := rapid.Float64Range(0, 1).Draw(t, "days")
		if dip, _ := w.Dip(r, days); dip >= w.Oxygen {
			t.Skip("no oxygen left")
		}
		refill := w.Transfer * w.Surface / w.Volume
		const n = 1 << 14
		var let float64
		for i := range n + 1 {
			weight := 2.0 + 2*float64(i%2)
			if i == 0 || i == n {
				weight = 1
			}
			let += weight / 3 * days / n * refill * (w.Oxygen - w.OxygenAfter(r, days*float64(i)/n))
		}
		paid := func(debt, halfTime float64) float64 { return -debt / w.Volume * math.Expm1(-math.Ln2/halfTime*days) }
		used := paid(r.FastDebt, bed.IronSulfideHalfTime) + paid(r.FullDebt-r.FastDebt, bed.SlowHalfTime)
		balanced(t, "oxygen", w.OxygenAfter(r, days), w.Oxygen+let-used)
	})
}

// TestOxygenAfter_asStepped holds the closed form against small steps in which the debts
// take no more oxygen than there is.
func TestOxygenAfter_asStepped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWater(t)
		r := drawRelease(t, w)
		days := rapid.Float64Range(0, 2).Draw(t, "days")
		const n = 40000
		h := days / n
		oxygen, fast, slow := w.Oxygen, r.FastDebt/w.Volume, (r.FullDebt-r.FastDebt)/w.Volume
		least := oxygen
		for range n {
			let := h * w.Transfer * w.Surface / w.Volume * (w.Oxygen - oxygen)
			payFast := -fast * math.Expm1(-math.Ln2*h/bed.IronSulfideHalfTime)
			paySlow := -slow * math.Expm1(-math.Ln2*h/bed.SlowHalfTime)
			if pay := payFast + paySlow; pay > oxygen+let {
				payFast *= (oxygen + let) / pay
				paySlow *= (oxygen + let) / pay
			}
			oxygen += let - payFast - paySlow
			fast -= payFast
			slow -= paySlow
			least = min(least, oxygen)
		}
		if got := w.OxygenAfter(r, days); math.Abs(got-oxygen) > 0.01 {
			t.Fatalf("%+v after %+v: %g mg/L in %g d, in steps %g", w, r, got, days, oxygen)
		}
		dip, at := w.Dip(r, days)
		if got := max(0, w.Oxygen-dip); math.Abs(got-least) > 0.01 || at > days {
			t.Fatalf("%+v after %+v: least %g mg/L at %g d, in steps %g", w, r, got, at, least)
		}
		r.FastDebt, r.FullDebt = 2*r.FastDebt, 2*r.FullDebt
		twice, _ := w.Dip(r, days)
		close(t, "dip of twice the release", twice, 2*dip)
	})
}

// TestOxygenAfter_runsOut: 20 mg/L of fast debt in water of 5 mg/L, refilled at 20 a day.
// While it has none it pays 100 mg/L/d; the steps of the test above, fine, give the rest.
func TestOxygenAfter_runsOut(t *testing.T) {
	w := bed.Water{Volume: 0.05, Surface: 0.25, Transfer: 4, Oxygen: 5}
	r := bed.Release{FastDebt: 1, FullDebt: 1}
	const rate = math.Ln2 * 24 * 60 / 29 // 1/d
	const h = 1e-6
	oxygen, debt, outAt, backAt := 5.0, 20.0, 0.0, 0.0
	for i := 1; i <= 300_000; i++ {
		let := h * 20 * (5 - oxygen)
		pay := min(h*rate*debt, oxygen+let)
		oxygen, debt = oxygen+let-pay, debt-pay
		switch now := h * float64(i); {
		case oxygen == 0 && outAt == 0:
			outAt = now
		case oxygen > 0 && outAt > 0 && backAt == 0:
			backAt = now
		}
	}
	if got := w.OxygenAfter(r, 0.3); oxygen < 3 || math.Abs(got-oxygen) > 0.001 {
		t.Errorf("after 0.3 d %.4f mg/L, in steps %.4f", got, oxygen)
	}
	if backAt < outAt+0.1 || w.OxygenAfter(r, 0.99*outAt) <= 0 || w.OxygenAfter(r, 1.01*outAt) != 0 ||
		w.OxygenAfter(r, 0.99*backAt) != 0 || w.OxygenAfter(r, 1.01*backAt) <= 0 {
		t.Errorf("without oxygen from %.4f to %.4f d in steps, else here", outAt, backAt)
	}
}

// At the very rate of the refill the two exponentials run together: C0 − D r t e^(−rt).
func TestOxygenAfter_equalRates(t *testing.T) {
	w := bed.Water{Volume: 1, Surface: 1, Transfer: math.Ln2 / bed.SlowHalfTime, Oxygen: 8}
	want := 8 - 3*math.Ln2*math.Exp(-math.Ln2)
	within(t, w.OxygenAfter(bed.Release{FullDebt: 3}, 1), want, 1e-12)
	if got := (bed.Water{Volume: 1, Surface: 1, Transfer: 1}).OxygenAfter(bed.Release{FullDebt: 3}, 1); got != 0 {
		t.Errorf("water without oxygen has %g mg/L", got)
	}
	w.Transfer *= 1 + 1e-9
	within(t, w.OxygenAfter(bed.Release{FullDebt: 3}, 1), want, 1e-8)
}

// A quarter of a black zone opened to 20 mm takes several mg/L of oxygen in a day from
// still water, and leaves more of it in bubbled water: 5.2 mg/L at once, row rel2_o2_fast.
func TestOxygenAfter_blackZoneOpened(t *testing.T) {
	r := quarter(20 * bed.Millimeter).Release(mulmOnBlack())
	still := bed.Water{Volume: 0.05, Surface: 0.18, Transfer: bed.Still.Exchange().Transfer.Default, Oxygen: 8}
	bubbled := still
	bubbled.Transfer = bed.Aerated.Exchange().Transfer.Default
	hour, bubbledHour := still.OxygenAfter(r, bed.Hour), bubbled.OxygenAfter(r, bed.Hour)
	if hour > 8-3.5 || hour < 8-5.5 || bubbledHour < hour+0.5 {
		t.Errorf("after an hour %.2f mg/L, bubbled %.2f; want 2.5 to 4.5 of 8, and more", hour, bubbledHour)
	}
}

func sum(a, b bed.Release) bed.Release {
	return bed.Release{
		Ammonia: a.Ammonia + b.Ammonia, Sulfide: a.Sulfide + b.Sulfide, IronSulfide: a.IronSulfide + b.IronSulfide,
		FastDebt: a.FastDebt + b.FastDebt, FullDebt: a.FullDebt + b.FullDebt,
	}
}

func sameRelease(t *rapid.T, what string, got, want bed.Release) {
	t.Helper()
	balanced(t, what+": ammonia", got.Ammonia, want.Ammonia)
	balanced(t, what+": sulphide", got.Sulfide, want.Sulfide)
	balanced(t, what+": FeS", got.IronSulfide, want.IronSulfide)
	balanced(t, what+": fast debt", got.FastDebt, want.FastDebt)
	balanced(t, what+": full debt", got.FullDebt, want.FullDebt)
}

// balanced holds two amounts equal to 1e-9 of the larger, or of one unit.
func balanced(t *rapid.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*max(1, math.Abs(want))) {
		t.Fatalf("%s: %.15g, want %.15g", what, got, want)
	}
}

func drawSediment(t *rapid.T) []bed.Layer {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) bed.Layer {
		return bed.Layer{
			Thickness:   rapid.Float64Range(0, 0.05).Draw(t, "h"),
			Porosity:    rapid.Float64Range(0.3, 0.99).Draw(t, "φ"),
			Solids:      rapid.Float64Range(12, 1750).Draw(t, "ρ"),
			Ammonia:     rapid.Float64Range(0, 20).Draw(t, "TAN"),
			Sulfide:     rapid.Float64Range(0, 15).Draw(t, "S"),
			IronSulfide: rapid.Float64Range(0, 127).Draw(t, "FeS"),
		}
	}), 1, 8).Draw(t, "layers")
}

func drawDisturbance(t *rapid.T, layers []bed.Layer) bed.Disturbance {
	var floor float64
	for _, l := range layers {
		floor += l.Thickness
	}
	return bed.Disturbance{
		Footprint:    rapid.Float64Range(0.01, 2).Draw(t, "A"),
		Share:        rapid.Float64Range(0, 1).Draw(t, "f"),
		Depth:        rapid.Float64Range(0, floor).Draw(t, "d"),
		Reaching:     rapid.Float64Range(0, 1).Draw(t, "q"),
		Exchangeable: rapid.Float64Range(0, 4).Draw(t, "K"),
		Desorbed:     rapid.Float64Range(0, 1).Draw(t, "x"),
	}
}

func drawWater(t *rapid.T) bed.Water {
	w := bed.Water{
		Volume:   rapid.Float64Range(0.005, 0.5).Draw(t, "V"),
		Transfer: rapid.Float64Range(0.02, 10).Draw(t, "kL"),
		Oxygen:   rapid.Float64Range(0, 12).Draw(t, "C0"),
	}
	w.Surface = w.Volume / rapid.Float64Range(0.05, 1).Draw(t, "H")
	return w
}

// drawRelease owes the water up to eight times what it holds.
func drawRelease(t *rapid.T, w bed.Water) bed.Release {
	stock := w.Oxygen * w.Volume
	fast := stock * rapid.Float64Range(0, 4).Draw(t, "fast")
	return bed.Release{FastDebt: fast, FullDebt: fast + stock*rapid.Float64Range(0, 4).Draw(t, "rest")}
}

// TestDips: looking at a few times finds the dip within one per cent.
func TestDips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := bed.Water{
			Volume: 0.05, Surface: 0.18, Oxygen: 8,
			Transfer: rapid.Float64Range(0.01, 30).Draw(t, "transfer"),
		}
		fast := rapid.Float64Range(0, 5).Draw(t, "fast")
		r := bed.Release{FastDebt: fast, FullDebt: fast + rapid.Float64Range(0.001, 20).Draw(t, "slow")}
		want, _ := w.Dip(r, 1)
		dips := w.Dips(1)
		if got := dips.Of(r); got > want*(1+1e-9) || got < want*(1-0.01) {
			t.Fatalf("dip %v of %+v, want %v", got, r, want)
		}
	})
}
