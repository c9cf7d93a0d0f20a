package table

import (
	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// The findings below are made up by hand to show every form that the report has.

func date(s string) layers.Date {
	d, err := layers.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

func datePtr(s string) *layers.Date { d := date(s); return &d }

func hex(s string) palette.Color {
	c, err := palette.ParseColor(s)
	if err != nil {
		panic(err)
	}
	return c
}

func estimate(value, low, high float64, basis reports.Basis) *reports.Estimate {
	return &reports.Estimate{Value: value, Low: low, High: high, Basis: basis}
}

func layer(top, thickness float64, colour string, band palette.Band, probability float64) reports.Layer {
	return reports.Layer{
		TopMM: top, Thickness: reports.Estimate{Value: thickness, Low: thickness - 0.8, High: thickness + 0.8},
		Hex: hex(colour), Band: band, Probability: probability,
	}
}

// healthy is a living bed at two stations that is best left alone.
func healthy() reports.Tank {
	labelled := layer(12, 4, "#b4552a", palette.Rust, 1)
	labelled.Labelled = true
	accumulation := estimate(1.9, 1.2, 2.6, reports.Trend)
	accumulation.Readings = 9
	front := estimate(-0.2, -0.5, 0.1, reports.Trend)
	front.Readings = 9
	return reports.Tank{
		ID: "kettle", Name: "Kettle", AsOf: date("2026-11-01"),
		Cores: []reports.Core{{
			Reliable: true, Station: "front", Date: date("2026-11-01"),
			Layers: []reports.Layer{
				layer(0, 12, "#8b5e3c", palette.MulmLight, 0.94), labelled,
				layer(16, 22, "#3a3632", palette.Black, 0.88), layer(38, 36, "#d9cba6", palette.Native, 0.99),
			},
			Mulm: estimate(12, 11.2, 12.8, ""), OxicDepth: estimate(16, 14.1, 18, reports.RustFront),
			BlackTop: estimate(16, 15, 17.2, ""), BlackZone: estimate(22, 20.9, 23.1, ""),
		}, {
			Reliable: true, Station: "left", Date: date("2026-10-29"),
			Layers: []reports.Layer{
				layer(0, 9.5, "#8b5e3c", palette.MulmLight, 0.9), layer(9.5, 3, "#b4552a", palette.Rust, 0.97),
				layer(12.5, 5, "#55504a", palette.Grey, 0.81), layer(17.5, 50, "#d9cba6", palette.Native, 0.99),
			},
			Mulm: estimate(9.5, 8.7, 10.3, ""), OxicDepth: estimate(12.5, 11.5, 13.5, reports.RustFront),
		}},
		OxicDepth: estimate(14.2, 11.9, 16.8, reports.RustFront), Penetration: estimate(2.1, 1, 4.4, "model"),
		Mulm: estimate(10.8, 9.1, 12.6, ""), BlackTop: estimate(16, 15, 17.2, ""), BlackZone: estimate(22, 20.9, 23.1, ""),
		Accumulation: accumulation, FrontShift: front,
		LimitReached: &reports.Forecast{LimitMM: 50, Earliest: datePtr("2027-08-01"), Expected: datePtr("2028-06-01")},
		BottomOxygen: estimate(5, 3.1, 6.6, "model"), Ammonia: estimate(0.003, 0.001, 0.006, reports.WaterTest),
		Advice: &reports.Advice{
			Action: reports.Leave, Confidence: 0.86, Clarity: reports.FairlyClear, Shares: reports.Shares{Leave: 0.86, Stir: 0.02, Siphon: 0.12},
			How:   "Leave the bed as it is and read it again in a month.",
			First: []string{},
			Because: []reports.Reason{
				{Rule: "living-bed", Text: "Roots and burrowers work this bed, and its mulm is well under 75 mm.", Share: 0.97, Mark: "assumption"},
				{Rule: "steady-front", Text: "The rust front has kept its depth over nine readings.", Share: 0.81, Mark: "assumption"},
			},
			Against: []reports.Reason{
				{Rule: "mulm-grows", Text: "The mulm grows by nearly 2 mm a month.", Share: 0.4, Mark: "common practice, no source"},
			},
			NextReading: date("2026-12-01"),
		},
		Notices: []string{"The stations front and left differ by 3 mm in their colour oxic depth."},
	}
}

// running is a tall still vessel to be siphoned, with cautions, an at-least bound
// and layers that may be two things.
func running() reports.Tank {
	doubtful := layer(34, 6, "#4b3a2a", palette.MulmDark, 0.52)
	doubtful.Alternatives = []reports.Alternative{{Band: palette.Native, Probability: 0.45}, {Band: palette.Black, Probability: 0.03}}
	accumulation := estimate(4.6, 3.1, 6.3, reports.TwoReadings)
	accumulation.Readings = 2
	black := estimate(48, 46, 51, "")
	black.AtLeast = true
	return reports.Tank{
		ID: "tall-jar", Name: "Küche, hohes Glas", AsOf: date("2026-11-02"),
		Cores: []reports.Core{{
			Reliable: true, Station: "window", Date: date("2026-11-02"),
			Layers: []reports.Layer{
				layer(0, 1.5, "#3f6b35", palette.FilmGreen, 0.83), layer(1.5, 32.5, "#7a5334", palette.MulmLight, 0.91), doubtful,
				layer(40, 48, "#2b2926", palette.Black, 0.93),
			},
			Mulm: estimate(38.5, 33, 40.4, ""), OxicDepth: estimate(40, 38.7, 41.3, reports.ReducedTop),
			BlackTop: estimate(40, 38.7, 41.3, ""), BlackZone: black,
		}},
		OxicDepth: estimate(40, 36.1, 43.8, reports.ReducedTop), Mulm: estimate(38.5, 33, 40.4, ""),
		BlackTop: estimate(40, 38.7, 41.3, ""), BlackZone: black, Accumulation: accumulation,
		FrontShift:   estimate(2.8, 1.2, 4.4, reports.TwoReadings),
		LimitReached: &reports.Forecast{LimitMM: 50, Earliest: datePtr("2026-12-28"), Expected: datePtr("2027-01-17"), Latest: datePtr("2027-02-25")},
		Ammonia:      estimate(0.0312, 0.0121, 0.0604, reports.WaterTest),
		Advice: &reports.Advice{
			Action: reports.Siphon, Confidence: 0.64, Clarity: reports.Unclear, LimitedBy: []string{"one station only"}, Shares: reports.Shares{Leave: 0.36, Siphon: 0.64},
			How:   "Siphon the top 15 mm of mulm from a quarter of the floor, hovering above the bed; the next quarter in two to four weeks.",
			First: []string{"Cut feeding by half.", "Aerate before and after, and test the water for ammonia."},
			Because: []reports.Reason{
				{Rule: "fast-mulm", Text: "More than 4 mm of mulm a month, and over half the limit of 50 mm.", Share: 0.71, Mark: "assumption"},
			},
			Against: []reports.Reason{},
			Cautions: []string{
				"Do not start a siphon by mouth; fill the hose or use a bulb.",
				"Unplug heater, lights and pumps before hands go in.",
				"Animals gasping at the surface: stop, aerate, change part of the water, and ask an aquatic veterinarian.",
			},
			NextReading: date("2026-11-16"),
		},
		Notices: []string{
			"The green film was seen at lit stations only: it is taken for glass-deep and counts for nothing.",
			"No native colour is on record, so dark layers stay doubtful; enter the substrate’s colour from set-up day (≥ 1 layer).",
		},
	}
}

// swelling is the kettle with black on its way up, its floor in view: the front rises while mulm buries
// it faster. One of the signs stands among the reasons too.
func swelling() reports.Tank {
	tank := healthy()
	tank.FrontShift, tank.FloorShift = estimate(1.1, 0.6, 1.6, reports.Trend), estimate(-2.5, -3.2, -1.8, reports.Trend)
	tank.FloorShift.Readings = 9
	likely := 0.87
	film := "A dark film was seen at front (2026-11-01)."
	tank.Advice.Because = append(tank.Advice.Because, reports.Reason{Rule: "dark-film", Text: film, Share: 1, Mark: "common practice, no source"})
	tank.Watch = &reports.Watch{Probability: &likely, Since: date("2026-08-02"), NextReading: tank.Advice.NextReading,
		Signs: []string{"The black zone thickens by 4 mm a month, four times as fast as in the year before.", film}}
	return tank
}

// unread is a tank of which next to nothing can be said.
func unread() reports.Tank {
	depth := estimate(80, 79, 81.2, reports.NotReached)
	depth.AtLeast = true
	return reports.Tank{
		ID: "bare-sand", AsOf: date("2026-11-02"),
		Cores: []reports.Core{{
			Reliable: true, Station: "front", Date: date("2026-11-02"),
			Layers:    []reports.Layer{layer(0, 80, "#d9cba6", palette.Native, 0.98)},
			OxicDepth: depth,
		}},
		OxicDepth: depth,
		Notices:   []string{"One reading without a set-up date: no accumulation can be given.", "No mulm at the top of the bed."},
	}
}

// gasping is the kettle with its water in trouble.
func gasping() reports.Tank {
	tank := healthy()
	tank.Advice = &reports.Advice{
		Action: reports.Leave, Confidence: 1, Clarity: reports.Clear, Shares: reports.Shares{Leave: 1},
		How:         "Leave the bed as it is until the water is right again.",
		WaterFirst:  []string{"Animals gasped (2026-11-01).", "Oxygen was 1.0 mg/L on 2026-11-01 at 22:00, below the limit of 3 mg/L."},
		Later:       []string{"Nothing in the bed needs doing."},
		First:       []string{"Aerate day and night, with an air stone or a rippled surface.", "Keep hands, hose and stick out of the bed."},
		Because:     []reports.Reason{{Rule: "gasping", Text: "Animals gasped (2026-11-01).", Share: 1, Mark: "common practice, no source"}},
		Against:     []reports.Reason{},
		Cautions:    []string{"If more than one animal dies, ask an aquatic veterinarian."},
		NextReading: date("2026-11-03"),
	}
	return tank
}

// questioned is the tall jar with a reading that is in doubt.
func questioned() reports.Tank {
	tank := running()
	tank.Cores[0].Reliable = false
	tank.Questions = []reports.Question{{Station: "window", Date: date("2026-11-02"), Text: "The core of window on 2026-11-02 looks upside down. Was it typed from the floor up?", Mends: []reports.Mend{
		{Slip: reports.SlipTurnedOver, Label: "Yes, turn it over", Command: "panecore core amend tall-jar --station window --date 2026-11-02 --turn"},
		{Slip: reports.SlipNone, Label: "It is right as it stands", Command: "panecore core amend tall-jar --station window --date 2026-11-02 --sure"},
	}}}
	return tank
}
