package infer

import (
	"slices"

	"panecore/reports"
	"panecore/reports/stats"
)

// Fill takes the draws of a tank together: unrounded for the outlook, rounded for the findings.
func (s *Simulation) Fill(o *Outlook, found *reports.Tank) {
	for i, r := range o.Newest {
		found.Cores = append(found.Cores, s.cores[i].core(r))
	}
	o.Mulm, o.Oxic, o.Black = s.mulmDepth(), oxicDepth(s.oxic, s.basis), stats.Spread(s.black)
	found.Mulm, found.OxicDepth, found.BlackZone = o.Mulm.Rounded(reports.LengthDigits), o.Oxic.Rounded(reports.LengthDigits), o.Black.Rounded(reports.LengthDigits)
	found.BlackTop = blackTop(s.top, len(s.mulm))
	if o.Growth != nil {
		o.Growth.grown(s.growth)
		found.Accumulation = o.Growth.Rounded(reports.RateDigits)
	}
	if o.Shift != nil {
		found.FrontShift = o.Shift.Rounded(reports.RateDigits)
	}
	if o.FloorShift != nil {
		found.FloorShift = o.FloorShift.Rounded(reports.RateDigits)
	}
	if o.Tests.Ammonia.Known() {
		o.Ammonia = stats.Spread(s.ammonia)
		o.Ammonia.Basis = reports.WaterTest
		found.Ammonia = o.Ammonia.Rounded(reports.AmmoniaDigits)
	}
	if o.Chemistry != nil {
		s.fillOxygen(o, found)
	}
	found.LimitReached = o.forecast(s)
}

// fillOxygen is Fill for the chemistry's numbers.
func (s *Simulation) fillOxygen(o *Outlook, found *reports.Tank) {
	penetration := stats.Spread(s.penetration)
	o.Bottom = stats.Spread(s.bottom)
	penetration.Basis, o.Bottom.Basis = o.Chemistry.Basis(), o.Chemistry.Basis()
	found.Penetration = penetration.Rounded(reports.LengthDigits)
	found.BottomOxygen = o.Bottom.Rounded(reports.OxygenDigits)
	o.Safe = SafeShares{stats.Quantile(s.stirShare, 0.05), stats.Quantile(s.siphonShare, 0.05), stats.Quantile(s.aeratedShare, 0.05)}
}

// mulmDepth is the tank's mulm. The draws keep their order, which is that of their growth.
func (s *Simulation) mulmDepth() reports.Estimate {
	e := stats.Spread(slices.Clone(s.mulm))
	e.AtLeast = 2*s.toEnd > len(s.mulm)
	return e
}

// oxicDepth is a colour oxic depth with the basis of most draws. It is a lower bound if at least
// half of them saw no front.
func oxicDepth(draws []float64, basis map[reports.Basis]int) reports.Estimate {
	e := stats.Spread(draws)
	var all int
	for _, b := range [...]reports.Basis{reports.RustFront, reports.ReducedTop, reports.NotReached} {
		all += basis[b]
		if e.Basis == "" || basis[b] > basis[e.Basis] {
			e.Basis = b
		}
	}
	e.AtLeast = 2*basis[reports.NotReached] >= all
	return e
}

// blackTop is where the black zone begins, nil if most draws have none.
func blackTop(tops []float64, draws int) *reports.Estimate {
	if 2*len(tops) < draws {
		return nil
	}
	return stats.Spread(tops).Rounded(reports.LengthDigits)
}
