package infer

import "panecore/layers"

// Truth is one draw of a tank: one possible truth, as the rules see it. Lengths in
// mm, rates in mm a month.
type Truth struct {
	*Facts
	Mulm        float64
	ReducedTop  float64 // +Inf: no reduced band
	Black       float64
	Growth      float64 // zero where not known
	Shift       float64 // of the front, negative rising; meaningful where ShiftKnown
	ShiftKnown  bool
	Reached     bool // the front was seen
	Rising      bool // the record itself, not just this draw, says that the front rises
	SeemsRising bool // it seems so, from too few readings to be sure
	Runaway     bool // by the bed alone, black swells up more likely than not
	Still       bool
	Ammonia     float64 // un-ionised, mg N/L; zero where not known
	Bottom      float64 // oxygen at the bottom in the dark, mg/L; meaningful where BottomKnown
	StirShare   float64 // largest share of the floor that may be stirred within the limits; where BottomKnown
	SiphonShare float64 // the same for siphoning, with an air stone if that helps; where BottomKnown
	BottomKnown bool
	Floor       float64 // how deep the bed was seen
	Doubtful    bool    // no reading that the estimates rest on is sound
	ReadDays    int     // since the newest core
	Over        bool    // there are PlacesOver
	Slack       float64 // of the limits that are rules of thumb, a factor about one
}

// DrawnLimit is a limit in this draw: the keeper's own exactly, a rule of thumb with its slack.
func (t *Truth) DrawnLimit(l layers.Limit) float64 {
	if in := t.limits[l]; in.own {
		return in.value
	}
	return t.Limit(l) * t.Slack
}
