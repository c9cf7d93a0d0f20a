package web

// What scripts and the page tell each other of a photo, written anew here, so that a change of
// one side alone shows.
type (
	readRequest struct {
		Tank    string       `json:"tank"`
		Station string       `json:"station"`
		Date    string       `json:"date"`
		Picks   marks        `json:"picks"`
		Surface float64      `json:"surface_mm"`
		Cuts    []cutRequest `json:"cuts,omitempty"`
		Lit     *bool        `json:"lit,omitempty"`
		Signs   []string     `json:"signs,omitempty"`
		Note    string       `json:"note,omitempty"`

		Confirmed []string `json:"confirmed,omitempty"`
	}
	marks struct {
		Ruler   *rulerMark  `json:"ruler,omitempty"`
		Cards   []cardMark  `json:"cards,omitempty"`
		Strip   *[4]float64 `json:"strip,omitempty"`
		Surface *float64    `json:"surface,omitempty"`
	}
	rulerMark struct {
		From   [2]float64 `json:"from"`
		To     [2]float64 `json:"to"`
		Length string     `json:"length"`
	}
	cardMark struct {
		Box         [4]float64 `json:"box"`
		Reflectance string     `json:"reflectance,omitempty"`
	}
	cutRequest struct {
		BottomMM float64 `json:"bottom_mm"`
		Band     string  `json:"band,omitempty"`
	}
	stateAnswer struct {
		Width  int         `json:"width"`
		Height int         `json:"height"`
		State  readRequest `json:"state"`
		Again  bool        `json:"again"`
		Tanks  []any       `json:"tanks"`
	}
	foundAnswer struct {
		Tank, Station, Said string
		Picks               marks
		Sightings           map[string]struct {
			Confidence float64
			Doubtful   bool
			Note       string
		}
	}
	asking struct {
		Asks []struct {
			About, Text, Yes, No string
			Surface              *float64
		}
		Wanted []string
		Words  *struct {
			Said, Unsure string
			Numbers      []any
		}
	}
	saveRequest struct {
		readRequest
		Replace bool   `json:"replace"`
		Answer  string `json:"answer"`
		Asked   string `json:"asked"`
	}
	wordsTold struct {
		Layers []struct {
			Depths, Thickness, Name string
			Bands                   []struct{ Band, Words string }
		}
	}
	saveQuestion struct {
		Asked string `json:"asked"`
	}
)
