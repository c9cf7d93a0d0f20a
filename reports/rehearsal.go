package reports

import "panecore/layers"

// RehearsalFormat names the JSON form of a Rehearsal.
const RehearsalFormat = "panecore-rehearsal/1"

// Rehearsal is what stirring or siphoning would do to a tank as last read.
type Rehearsal struct {
	Format   string         `json:"format"`
	ID       string         `json:"id"`
	Name     string         `json:"name"`
	AsOf     layers.Date    `json:"as_of"`
	Method   Method         `json:"method"`
	Share    float64        `json:"share"`           // of the floor
	DepthMM  float64        `json:"depth_mm"`        // below the bed surface
	Within   float64        `json:"within"`          // share of the draws that stay within every limit
	Before   float64        `json:"within_before"`   // share of the draws in which the untouched water is within them
	Never    string         `json:"never,omitempty"` // why it must not be done, whatever the numbers; empty: nothing
	Numbers  []Rehearsed    `json:"numbers"`
	Largest  []LargestShare `json:"largest_shares"`
	Doubt    []Influence    `json:"doubt"`   // the inputs that carry most of it, two at most
	Steps    []string       `json:"steps"`   // how to do it; empty unless Fine
	Instead  []string       `json:"instead"` // what helps if it is not Fine
	Cautions []string       `json:"cautions"`
	Notices  []string       `json:"notices"`
}

// Rehearsed is one number of the water after the disturbance. Limit is nil if it has none; Within is
// the share of the draws within it.
type Rehearsed struct {
	Name   string    `json:"name"`
	Key    string    `json:"key"`
	Unit   string    `json:"unit"`
	After  *Estimate `json:"after"` // nil: not known
	Limit  *float64  `json:"limit"`
	Below  bool      `json:"limit_is_least"` // the number must not fall below its limit
	Source string    `json:"limit_source,omitempty"`
	Within *float64  `json:"within"`
}

// LargestShare is the largest share of the floor that stays within every limit in 95 %
// of the draws, with the water as it is and with an air stone running.
type LargestShare struct {
	Method  Method  `json:"method"`
	DepthMM float64 `json:"depth_mm"`
	Share   float64 `json:"share"`
	Aerated float64 `json:"share_aerated"`
}

// Influence is how an input correlates with the largest share (Spearman).
type Influence struct {
	Input       string  `json:"input"`
	Correlation float64 `json:"rank_correlation"`
}

// InputError says what a rehearsal or an oxygen profile lacks: where, what was found, what is wanted.
type InputError struct{ Where, Found, Want string }

func (e *InputError) Error() string { return e.Where + ": found " + e.Found + ", want " + e.Want }

// enough is the share of the draws that must stay within every limit (the project's definition).
const enough = 0.95

// Fine reports whether the disturbance can be done as far as known.
func (r Rehearsal) Fine() bool { return r.Never == "" && r.Within >= enough }

// Troubled reports whether the water may well be over a limit before it is disturbed.
func (r Rehearsal) Troubled() bool { return r.Before < enough }

// Unknown are the names of the numbers that have a limit but are not known.
func (r Rehearsal) Unknown() (names []string) {
	for _, n := range r.Numbers {
		if n.Limit != nil && n.After == nil {
			names = append(names, n.Name)
		}
	}
	return names
}

// Method is a way of disturbing a bed.
type Method string

// The methods.
const (
	MethodStir   Method = "stir"
	MethodSiphon Method = "siphon"
)

// Action is the action that the method carries out.
func (m Method) Action() Action {
	if m == MethodStir {
		return Stir
	}
	return Siphon
}
