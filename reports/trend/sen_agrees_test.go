package trend

import (
	"math"
	"testing"
)

// TestNew_agreesWithSen: on one station that grows evenly and that nobody worked, Sen's slope is the same
// question for the way that takes the growth as even, and the model answers it alike and no worse. The
// rate over all ways is today's, which a bed that may have bent lately leaves more open, so it strays
// further; but then it says so.
func TestNew_agreesWithSen(t *testing.T) {
	const records = 200
	for _, visits := range []int{6, 12, 24} {
		w := lone
		w.visits = visits
		var within, open int
		var off, ofSen, ofEven float64
		for seed := range uint64(records) {
			r := w.record(dice(seed))
			b := senBlock{Station: "A"}
			for _, reading := range r.Readings {
				b.T, b.Y = append(b.T, reading.T), append(b.Y, reading.Y)
			}
			sen, _ := pooledSlope([]senBlock{b}, 0.90)
			f := New(r)
			even := f.States[0]
			if even.Decay != 0 || even.Drift != 0 || even.Season {
				t.Fatalf("%d readings, seed %d: the even way has been dropped", visits, seed)
			}
			if sen.Low <= even.Rate && even.Rate <= sen.High {
				within++
			}
			off += math.Abs(even.Rate - sen.Median)
			ofEven += (even.Rate - w.rate) * (even.Rate - w.rate)
			ofSen += (sen.Median - w.rate) * (sen.Median - w.rate)
			if rate, deviation := f.rateNow(); math.Abs(rate-sen.Median) <= 1.645*deviation {
				open++
			}
		}
		t.Logf("%d readings: in Sen's 90 %% interval %d of %d, apart by %.3f mm a month, errors %.3f and Sen's %.3f; Sen's in the model's range %d",
			visits, within, records, off/records, math.Sqrt(ofEven/records), math.Sqrt(ofSen/records), open)
		if within < records*95/100 || off > 0.5*math.Sqrt(ofSen*records) || ofEven > ofSen {
			t.Errorf("%d readings: the even way is not what Sen's slope is", visits)
		}
		if open < records*95/100 {
			t.Errorf("%d readings: Sen's slope lies in the range of today's rate in %d of %d", visits, open, records)
		}
	}
}

// rateNow is today's rate over all ways with its standard deviation.
func (f *Fit) rateNow() (rate, deviation float64) {
	_, rate = f.mean()
	var variance float64
	for _, s := range f.States {
		variance += s.Weight * (s.rateError*s.rateError + (s.Rate-rate)*(s.Rate-rate))
	}
	return rate, math.Sqrt(variance)
}
