package testscene

import "panecore/palette"

// Difficulty says how hard a scene is to read.
type Difficulty string

// The difficulties. An Unreadable scene should be refused.
const (
	Easy       Difficulty = "easy"
	Middling   Difficulty = "middling"
	Hard       Difficulty = "hard"
	Unreadable Difficulty = "unreadable"
)

// Scene is everything in a picture. Depths count down from the mean bed surface and places
// across from the picture's left edge, in mm on the pane.
type Scene struct {
	Name       string
	Difficulty Difficulty
	Seed       uint64
	Flaw       Flaw // what makes the picture unreadable

	Width, Height int     // upright picture, px
	PxPerMM       float64 // scale, px/mm
	RollDeg       float64 // clockwise roll of the pane in the picture, degrees
	Orientation   int     // EXIF orientation of the file: 1, 3, 6 or 8

	WaterMM   float64 // of water above the bed surface
	Layers    []Layout
	WaveMM    float64 // height of the layers' waves, top to bottom
	RecedesMM float64 // of bed surface visible behind its line at the pane; 0: level with the eye
	Native    Native
	Mulm      Mulm
	Stain     float64 // how patchy stains are: 0 even, 1 blotches

	Strip     Strip
	Ruler     Ruler
	Card      Card
	Light     Light
	Glare     []Glare
	Camera    Camera
	Things    Things
	PickErrMM float64 // error of the keeper's picks, standard deviation
	SurfErr   float64 // error of the keeper's click on the surface, mm
}

// Flaw is what makes a picture unreadable.
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

// Layout is a layer before it is painted.
type Layout struct {
	Band  palette.Band
	MM    float64 // mean thickness
	Color palette.Color
	Cover float64 // share of the grains that a stain or film hides, 0 to 1
	Edge  float64 // width of the change at its upper edge, mm
}

// Native is the substrate.
type Native struct {
	Kind    string // sand, gravel, clay, soil or granules
	Color   palette.Color
	Habit   habit
	GrainMM float64 // mean diameter
	Spread  float64 // standard deviation of the grains' diameters over their mean
	Motley  float64 // how much grains differ in colour, 0 to 1
}

// Mulm is how the loose matter looks.
type Mulm struct {
	ClumpMM float64 // size of its clumps
	Crumbs  float64 // 0: fluff, 1: crumbs
	Sunk    float64 // share of it that has sunk between the uppermost grains, 0 to 1
}

// Strip is the part of the pane that the keeper marks.
type Strip struct {
	LeftMM, WidthMM float64
	AboveMM         float64 // beginning, above the bed surface
	DepthMM         float64 // end, below the bed surface
}

// Ruler is the ruler on the glass.
type Ruler struct {
	LeftMM, WidthMM float64
	TopMM, LengthMM float64 // its scale; top counts from the picture's upper edge
	FromMM, PickMM  float64 // the first pick on the scale, and the distance to the second
	Style           rulerStyle
	InCM            bool // numbered in cm, else in mm
	TicksRight      bool // ticks at the right edge, else at the left
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
	Tint     [3]float64 // after the camera's white balance
	BedTint  [3]float64 // of the bed but not the card, which is outside the water
	Down     float64    // share lost from the picture's top to its foot
	Side     float64    // share lost away from LampX
	LampX    float64    // place of the lamp, 0 left to 1 right
	Vignette float64    // share lost in the corners
	Haze     float64    // stray light everywhere, linear
	HazeTint [3]float64
	KeyX     float64 // direction of the light on the grains, from -1 left to 1 right
}

// Glare is one reflection on the pane.
type Glare struct {
	Kind     glareKind
	XMM, YMM float64 // its middle, from the picture's left and upper edge
	WMM, HMM float64
	TurnDeg  float64
	Strength float64 // added light at its brightest, linear
	Tint     [3]float64
}

// Camera is the effect of lens, sensor and processing.
type Camera struct {
	EV         float64 // stops
	BlurPx     float64 // standard deviation of the lens's blur
	MotionPx   float64 // length of the smear
	MotionDeg  float64
	Shot       float64 // variance of the light's noise at reflectance 1
	Read       float64 // standard deviation of the sensor's noise, linear
	Chroma     float64 // blotchy colour noise, linear
	Curve      float64 // strength of the S-shaped tone curve, 0 to 1
	Saturation float64 // factor
	Sharpen    float64 // strength of unsharp masking
	Quality    int     // JPEG
}

// Things are in front of the bed, in it or on the glass.
type Things struct {
	Plants, Stems, Roots, Pebbles, Snails, Bubbles, Leaves int
	Algae                                                  float64 // cover of green dust on the glass
	Backdrop                                               palette.Color
	Frame                                                  palette.Color
	FrameMM                                                float64 // height of the tank's frame below the bed
}

// Photo is a picture and what is true of it.
type Photo struct {
	JPEG  []byte
	Truth Truth
}

// Truth is what is true of a picture. Boxes are x, y, width and height in pixels of the upright
// picture; depths are mm below the mean bed surface within the strip.
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
	OxicMM        *float64 // lower edge of the first rust band, or else top of the first black or grey; nil: neither
	MulmMM        float64
	Native        palette.Color // as laid
	NativeTyped   palette.Color // as a keeper might type it
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
