package testworlds

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// A Rival is a plain way to an interval that anyone may take: a polynomial in time through the stations'
// means of the last months, by least squares. It is told what every layer is and which readings are slips.
type Rival struct {
	months float64 // that it looks back; 0: all
	degree int
}

// Rivals look back three months, half a year, a year or over the whole record, on levels, lines and bends.
func Rivals() []Rival { return []Rival{{3, 0}, {6, 0}, {6, 1}, {12, 1}, {0, 1}, {12, 2}, {0, 2}} }

// fit is the value and the slope at the last reading, with their standard errors by the residuals; false:
// too few readings.
func (r Rival) fit(months, mm []float64) (value, slope, valueErr, slopeErr float64, ok bool) {
	if len(months) == 0 {
		return 0, 0, 0, 0, false
	}
	last := months[len(months)-1]
	from := 0
	for r.months > 0 && months[from] < last-r.months {
		from++
	}
	months, mm = months[from:], mm[from:]
	n, terms := len(months), r.degree+1
	if n < terms+2 {
		return 0, 0, 0, 0, false
	}
	x := mat.NewDense(n, terms, nil)
	for i, m := range months {
		for j := range terms {
			x.Set(i, j, math.Pow(m-last, float64(j)))
		}
	}
	var normal, inverse mat.Dense
	normal.Mul(x.T(), x)
	if inverse.Inverse(&normal) != nil {
		return 0, 0, 0, 0, false
	}
	y := mat.NewVecDense(n, mm)
	var xy, beta, fitted mat.VecDense
	xy.MulVec(x.T(), y)
	beta.MulVec(&inverse, &xy)
	fitted.MulVec(x, &beta)
	var squares float64
	for i := range n {
		squares += math.Pow(mm[i]-fitted.AtVec(i), 2)
	}
	variance := squares/float64(n-terms) + 1.0/12 // never surer than the rounding
	value, valueErr = beta.AtVec(0), math.Sqrt(variance*inverse.At(0, 0))
	if r.degree > 0 {
		slope, slopeErr = beta.AtVec(1), math.Sqrt(variance*inverse.At(1, 1))
	}
	return value, slope, valueErr, slopeErr, true
}

// A Stretch is an interval before it is made honest: how wide it is, and by how much it would have to be
// stretched about its value to hold the truth.
type Stretch struct{ Width, Miss float64 }

// means are the stations' means on every day, in order.
func means(sights []Sight) (months, mulm, oxic []float64) {
	slices.SortStableFunc(sights, func(a, b Sight) int { return cmp.Compare(a.Month, b.Month) })
	for from := 0; from < len(sights); {
		to := from
		var m, o float64
		for to < len(sights) && sights[to].Month == sights[from].Month {
			m, o = m+sights[to].Mulm, o+sights[to].Oxic
			to++
		}
		n := float64(to - from)
		months, mulm, oxic = append(months, sights[from].Month), append(mulm, m/n), append(oxic, o/n)
		from = to
	}
	return months, mulm, oxic
}

// Stretches are a rival's intervals for tanks: of the oxic depth, the mulm, its growth, the front's shift,
// and in months of when the limit is reached, where it will be.
func (r Rival) Stretches(tanks []Tank) (lists [5][]Stretch) {
	add := func(asked int, off, standardError float64) {
		lists[asked] = append(lists[asked], Stretch{2 * standardError, math.Abs(off) / standardError})
	}
	for _, t := range tanks {
		months, mulm, oxic := means(slices.Clone(t.Sights()))
		truth := t.Truth
		if value, slope, valueErr, slopeErr, ok := r.fit(months, oxic); ok {
			add(0, value-truth.Oxic, valueErr)
			if r.degree > 0 {
				add(3, slope-truth.Shift, slopeErr)
			}
		}
		value, slope, valueErr, slopeErr, ok := r.fit(months, mulm)
		if !ok {
			continue
		}
		add(1, value-truth.Mulm, valueErr)
		if r.degree == 0 {
			continue
		}
		add(2, slope-truth.Growth, slopeErr)
		if last := t.Days()[len(t.Days())-1]; slope > 0 && !truth.Over() && truth.Reached != 0 {
			ahead := (limitMM - value) / slope
			add(4, ahead-last.Months(truth.Reached), math.Hypot(valueErr, ahead*slopeErr)/slope)
		}
	}
	return lists
}
