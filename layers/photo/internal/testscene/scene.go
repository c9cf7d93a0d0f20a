package testscene

import "panecore/palette"

// Difficulty says how much stands between a scene and its reader.
type Difficulty string

// The difficulties. An Unreadable scene is one that should be refused.
const (
	Easy       Difficulty = "easy"
	Middling   Difficulty = "middling"
	Hard       Difficulty = "hard"
	Unreadable Difficulty = "unreadable"
)

// Scene is everything that is in a picture. Depths count down from the mean bed
// surface, places across from the picture's left edge; both in mm on the pane.
type Scene struct {
	Name       string
	Difficulty Difficulty
	Seed       uint64
	Flaw       Flaw // what makes the picture unreadable

	Width, Height int     // upright picture, px
	PxPerMM       float64 // scale, px/mm
	RollDeg       float64 // clockwise turn of the pane in the picture, degrees
	Orientation   int     // EXIF orientation of the file: 1, 3, 6 or 8

	WaterMM   float64 // water seen above the bed surface
	Layers    []Layout
	WaveMM    float64 // top to bottom of the layers' undulation
	RecedesMM float64 // bed surface seen behind the pane above its line; 0: level with the eye
	Native    Native
	Mulm      Mulm
	Stain     float64 // how patchy stains are: 0 even, 1 blotches

	Strip   Strip
	Ruler   Ruler
	Card    Card
	Light   Light
	Glare   []Glare
	Camera  Camera
	Things  Things
	HandMM  float64 // error of the keeper's picks, standard deviation
	SurfErr float64 // how far the keeper's surface click is off, mm
}

// Flaw is why nobody should read a picture.
type Flaw string

// The flaws of unreadable pictures.
const (
	NoFlaw    Flaw = ""
	BlankWall Flaw = "no bed in the strip: a blank wall"
	Defocus   Flaw = "out of focus"
	OneGlare  Flaw = "the strip lies under one glare"
	TooDark   Flaw = "grossly under-exposed"
	TooBright Flaw = "grossly over-exposed"
	Overgrown Flaw = "the pane is overgrown with algae"
	WaterOnly Flaw = "the strip lies on the water"
)

// Layout is a layer as it is laid.
type Layout struct {
	Band  palette.Band
	MM    float64 // mean thickness
	Color palette.Color
	Cover float64 // share of the grains that a stain or film hides, 0 to 1
	Edge  float64 // width of the upper edge's change, mm
}

// Native is the substrate.
type Native struct {
	Kind    string // sand, gravel, clay, soil or granules
	Color   palette.Color
	Habit   habit
	GrainMM float64 // mean diameter
	Spread  float64 // of the grains' diameters, standard deviation over mean
	Motley  float64 // how much grains differ in colour, 0 to 1
}

// Mulm is how the loose matter looks.
type Mulm struct {
	ClumpMM float64 // size of its clumps
	Crumbs  float64 // 0: fluff, 1: crumbs
	Sunk    float64 // share of it that has come between the uppermost grains, 0 to 1
}

// Strip is the part of the pane that the keeper marks.
type Strip struct {
	LeftMM, WidthMM float64
	AboveMM         float64 // begins so far above the bed surface; 0: at it
	DepthMM         float64 // ends so far below the bed surface
}

// Ruler is the ruler on the glass.
type Ruler struct {
	LeftMM, WidthMM float64
	TopMM, LengthMM float64 // first and length of the scale; top counts from the picture's upper edge
	FromMM, PickMM  float64 // the two picks on its scale: the first, and how far apart
	Style           rulerStyle
	InCM            bool // numbered in cm, else in mm
	TicksRight      bool // ticks stand at the right edge
}

// Card is the grey card on the glass.
type Card struct {
	LeftMM, TopMM, WidthMM, HeightMM float64 // top counts from the picture's upper edge
	Y                                float64 // reflectance
	Cast                             [3]float64
	TiltDeg                          float64
	TapeAcross                       bool
}

// Light is the light on the pane. Gains are linear factors of R, G and B.
type Light struct {
	Tint     [3]float64 // left after the camera's own white balance
	BedTint  [3]float64 // of the bed beside the card, which lies outside of the water
	Down     float64    // share lost from the picture's top to its foot
	Side     float64    // share lost away from LampX
	LampX    float64    // where the lamp hangs, 0 left to 1 right
	Vignette float64    // share lost in the corners
	Haze     float64    // stray light added all over, linear
	HazeTint [3]float64
	KeyX     float64 // where the light that shapes grains comes from: -1 left to 1 right
}

// Glare is one reflection on the pane.
type Glare struct {
	Kind     glareKind
	XMM, YMM float64 // its middle: across the picture and below its upper edge
	WMM, HMM float64
	TurnDeg  float64
	Strength float64 // added light at its brightest, linear
	Tint     [3]float64
}

// Camera is what lens, sensor and the maker's processing do.
type Camera struct {
	EV         float64 // stops
	BlurPx     float64 // standard deviation of the lens's blur
	MotionPx   float64 // length of the smear
	MotionDeg  float64
	Shot       float64 // variance of the light's noise at reflectance 1
	Read       float64 // standard deviation of the sensor's own noise, linear
	Chroma     float64 // blotchy colour noise, linear
	Curve      float64 // strength of the S-shaped tone curve, 0 to 1
	Saturation float64 // factor
	Sharpen    float64 // strength of unsharp masking
	Quality    int     // JPEG
}

// Things are what stands in front of the bed or grows on the glass.
type Things struct {
	Plants, Stems, Roots, Pebbles, Snails, Bubbles, Leaves int
	Algae                                                  float64 // cover of green dust on the glass, 0 to 1
	Backdrop                                               palette.Color
	Frame                                                  palette.Color
	FrameMM                                                float64 // of the tank's frame seen below the bed
}

// Photo is a picture and what is true of it.
type Photo struct {
	JPEG  []byte
	Truth Truth
}

// Truth is what is true of a picture. Boxes are x, y, width and height in pixels of
// the upright picture; depths are mm below the mean bed surface within the strip.
type Truth struct {
	Width, Height int
	Strip         [4]float64
	SurfaceY      float64    // the keeper's click
	TrueSurfaceY  float64    // mean bed surface at the strip's middle, px
	Ruler         [4]float64 // x1, y1, x2, y2
	RulerMM       float64
	Neutral       [4]float64 // a box inside the card
	CardY         float64    // the card's reflectance
	PxPerMM       float64
	DepthMM       float64 // to the strip's foot
	Layers        []Layer
	OxicMM        *float64 // lower edge of the first rust band, else top of the first black or grey; nil: neither
	MulmMM        float64
	Native        palette.Color // as laid
	NativeTyped   palette.Color // as a keeper would type it
	Refuse        bool
}

// Layer is a layer as painted.
type Layer struct {
	Band               palette.Band
	TopMM              float64 // mean over the strip's columns
	ThicknessMM        float64
	MinMM, MaxMM       float64 // of the upper edge
	Thinnest, Thickest float64 // mm, over the columns
	Color              palette.Color
}
