// Package reports holds the results that are shown about a tank: findings, timelines, records,
// rehearsals and oxygen profiles, with the settings they are made with. It computes nothing itself.
// Package infer draws what is not known, rules decides what to do, rehearsal works out a disturbance
// and a day's oxygen, and judge puts them together; the renderers show what they are given here.
package reports

import (
	"panecore/layers"
	"panecore/palette"
)

// FindingsFormat names the JSON form of Findings.
const FindingsFormat = "panecore-findings/1"

// Findings is what follows from a logbook: one entry a tank, in the logbook's order. Its JSON form is
// public; lengths are in mm.
type Findings struct {
	Format string `json:"format"`
	Tanks  []Tank `json:"tanks"`
}

// Tank is what follows from one tank's records.
type Tank struct {
	ID           string      `json:"id"`
	Name         string      `json:"name"`
	AsOf         layers.Date `json:"as_of"`
	Cores        []Core      `json:"cores"`
	OxicDepth    *Estimate   `json:"oxic_depth_mm"`
	Penetration  *Estimate   `json:"oxygen_penetration_mm"`
	Mulm         *Estimate   `json:"mulm_mm"`
	BlackTop     *Estimate   `json:"black_top_mm"`
	BlackZone    *Estimate   `json:"black_zone_mm"`
	Accumulation *Estimate   `json:"accumulation_mm_per_month"`
	FrontShift   *Estimate   `json:"front_shift_mm_per_month"`            // against the bed surface, negative rising
	FloorShift   *Estimate   `json:"front_shift_from_floor_mm_per_month"` // against the floor, negative rising; null: the floor is not seen
	LimitReached *Forecast   `json:"limit_reached"`
	BottomOxygen *Estimate   `json:"bottom_oxygen_mg_l"`
	Ammonia      *Estimate   `json:"unionised_ammonia_mg_l"`
	Advice       *Advice     `json:"advice"`
	Watch        *Watch      `json:"watch"`
	Questions    []Question  `json:"questions"` // what only the keeper can settle, the weightiest first
	Notices      []string    `json:"notices"`
}

// Core is one reading with its layers named. What only pictures need is not in its JSON form.
type Core struct {
	Station   string      `json:"station"`
	Date      layers.Date `json:"date"`
	Layers    []Layer     `json:"layers"`
	Mulm      *Estimate   `json:"mulm_mm"`
	OxicDepth *Estimate   `json:"oxic_depth_mm"`
	BlackTop  *Estimate   `json:"black_top_mm"`
	BlackZone *Estimate   `json:"black_zone_mm"`
	Reliable  bool        `json:"reliable"` // false: from a photo whose layers may not be as read, and the keeper has not said that it is right

	Surface *Relief       `json:"-"` // the bed surface as traced in a photo; nil: read by eye
	Signs   []layers.Sign `json:"-"`
	Note    string        `json:"-"`
	Photo   string        `json:"-"` // SHA-256 of its photo; empty: none
}

// Layer is a layer with its meaning.
type Layer struct {
	TopMM        float64       `json:"top_mm"`
	Thickness    Estimate      `json:"thickness_mm"`
	Hex          palette.Color `json:"hex"`
	Band         palette.Band  `json:"band"`
	Probability  float64       `json:"probability"`
	Labelled     bool          `json:"labelled"` // named by the keeper
	Alternatives []Alternative `json:"alternatives"`

	Edge *Relief `json:"-"` // its lower boundary as traced in a photo; nil: read by eye
}

// BottomMM is the depth of the layer's lower edge.
func (l Layer) BottomMM() float64 { return l.TopMM + l.Thickness.Value }

// DepthMM is how far down the core was seen, 0 without layers.
func (c Core) DepthMM() float64 {
	if len(c.Layers) == 0 {
		return 0
	}
	return c.Layers[len(c.Layers)-1].BottomMM()
}

// Doubtful reports whether the layer's name is so unsure that two should be shown.
func (l Layer) Doubtful() bool { return l.Probability < 0.7 && len(l.Alternatives) > 0 }

// Alternative is another band that the layer may be.
type Alternative struct {
	Band        palette.Band `json:"band"`
	Probability float64      `json:"probability"`
}

// Estimate is a number with its doubt: low and high bound 90 %.
type Estimate struct {
	Value    float64 `json:"value"`
	Low      float64 `json:"low"`
	High     float64 `json:"high"`
	Basis    Basis   `json:"basis,omitempty"`
	Readings int     `json:"readings,omitempty"`
	AtLeast  bool    `json:"at_least,omitempty"` // the view ends before the true value
}

// Basis names what an estimate rests on.
type Basis string

// The bases.
const (
	RustFront   Basis = "rust-front"
	ReducedTop  Basis = "reduced-top"
	NotReached  Basis = "not-reached"
	Trend       Basis = "trend"
	TwoReadings Basis = "two-readings"
	SinceSetUp  Basis = "since-set-up"
	WaterTest   Basis = "water-test"
	Model       Basis = "model"  // of water and bed, from readings and assumed ranges
	Fitted      Basis = "fitted" // the same model, fitted to measured oxygen
)

// Forecast is when the mulm reaches its limit; nil dates: it may never.
type Forecast struct {
	LimitMM  float64      `json:"limit_mm"`
	Earliest *layers.Date `json:"earliest"`
	Expected *layers.Date `json:"expected"`
	Latest   *layers.Date `json:"latest"`
}

// Action is what the advice is to do.
type Action string

// The actions, the gentlest first. Siphon always means only the top mulm, a stated share of the floor
// at a time; stir means only the top of an unrooted bed.
const (
	Leave  Action = "leave"
	Stir   Action = "stir"
	Siphon Action = "siphon"
)

// Advice is the decision, how clear the reading behind it is, and why. While WaterFirst is not empty,
// the action is Leave.
type Advice struct {
	Action      Action      `json:"action"`
	Confidence  float64     `json:"confidence"` // the action's own share
	Clarity     Clarity     `json:"clarity"`
	LimitedBy   []string    `json:"limited_by"` // what keeps the clarity down, a few words each
	Shares      Shares      `json:"shares"`
	How         string      `json:"how"`         // the action in one sentence
	WaterFirst  []string    `json:"water_first"` // what makes the water more urgent than the bed, a sentence each
	Later       []string    `json:"later"`       // the advice on the bed once the water is right again; empty without WaterFirst
	First       []string    `json:"first"`
	Because     []Reason    `json:"because"` // those of WaterFirst come first
	Against     []Reason    `json:"against"`
	Cautions    []string    `json:"cautions"`
	WaitDays    int         `json:"wait_days"` // from the newest core to the next reading; while the water comes first, from now
	NextReading layers.Date `json:"next_reading"`
}

// Clarity is how clear the reading behind the advice is: by the share of the draws that end in it,
// but no clearer than the record allows. It does not say how right the rules are.
type Clarity string

// The clarities, the clearest first.
const (
	Clear       Clarity = "clear"
	FairlyClear Clarity = "fairly-clear"
	Unclear     Clarity = "unclear"
	Divided     Clarity = "divided" // the draws end in different actions
)

// Watch is what points to trouble on its way: how likely a runaway is under way, that is black
// swelling up through the bed, against the tank's own past.
type Watch struct {
	Probability *float64    `json:"probability"` // null: no core has been read
	Since       layers.Date `json:"since"`       // of a runaway that is told, when it began; else the day of the oldest sign; zero: there is none
	Signs       []string    `json:"signs"`       // a sentence each
	NextReading layers.Date `json:"next_reading"`
}

// Told is the least probability at which a runaway is told of, and Suspected that at which the bed is to
// be read again earlier (assumptions).
const (
	Told      = 0.5
	Suspected = 0.2
)

// Runaway reports that a runaway is more likely under way than not.
func (w *Watch) Runaway() bool { return w != nil && w.Probability != nil && *w.Probability >= Told }

// Question is what only the keeper can settle about a core: whether it is right, or what a layer is.
type Question struct {
	Station string      `json:"station"`
	Date    layers.Date `json:"date"`
	Text    string      `json:"text"`  // ends in a question mark
	Mends   []Mend      `json:"mends"` // the answers, the likeliest first
}

// Mend is an answer to a question, and how to give it.
type Mend struct {
	Slip    Slip         `json:"slip"`
	Label   string       `json:"label"`          // the answer in a few words
	Command string       `json:"command"`        // the command that corrects the core or confirms it
	Layer   int          `json:"layer"`          // from 0; with SlipName or Alone
	Alone   bool         `json:"-"`              // only that layer is wrong, not the whole core
	Band    palette.Band `json:"band,omitempty"` // with SlipName
}

// Slip is what may be wrong with a core, or missing from the record.
type Slip string

// The slips.
const (
	SlipNone       Slip = "none"        // the core is right as it stands
	SlipTurnedOver Slip = "turned-over" // typed from the floor up
	SlipDepths     Slip = "depths"      // depths were typed as thicknesses
	SlipTenfold    Slip = "tenfold"     // ten times too thick: mm typed as cm
	SlipTenth      Slip = "tenth"       // ten times too thin: cm typed as mm
	SlipRemoval    Slip = "removal"     // a siphoning is not entered
	SlipTopUp      Slip = "top-up"      // a top-up of substrate is not entered
	SlipElsewhere  Slip = "elsewhere"   // another tank, station, light or ruler
	SlipName       Slip = "name"        // a layer has another name
)

// Shares is the part of the draws that ended in each action.
type Shares struct {
	Leave  float64 `json:"leave"`
	Stir   float64 `json:"stir"`
	Siphon float64 `json:"siphon"`
}

// Of is the share of an action, 0 to 1.
func (s Shares) Of(a Action) float64 {
	switch a {
	case Stir:
		return s.Stir
	case Siphon:
		return s.Siphon
	}
	return s.Leave
}

// Reason is a rule that held, and what it says about this tank.
type Reason struct {
	Rule  string  `json:"rule"`
	Text  string  `json:"text"`
	Share float64 `json:"share"` // of the draws in which it held
	Mark  string  `json:"mark"`  // where the rule comes from
}

// Actions lists every action, the gentlest first.
func Actions() [ActionCount]Action { return [...]Action{Leave, Stir, Siphon} }

// ActionCount is the number of actions.
const ActionCount = 3

// Place is the action's index among Actions, -1 if it is none of them.
func (a Action) Place() int {
	for i, other := range Actions() {
		if a == other {
			return i
		}
	}
	return -1
}
