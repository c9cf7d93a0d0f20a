package layers

// The fields of what a photo leaves in doubt. A doubt left out would read as none, so all
// must stand in it but the file's checksum and whether it is reliable, which documents from
// before that was told lack.
var (
	photoFields = fields{4, []string{"colour_doubt", "light", "scale_error", "surface", "sha256", "reliable"}}
	lightFields = fields{4, []string{"ev", "ev_doubt", "veil", "veil_doubt"}}
	edgeFields  = fields{3, []string{"error_mm", "highest_mm", "lowest_mm"}}
)

func (d *Decoder) readPhoto() *Photo {
	var p Photo
	for o := d.object(&photoFields); d.next(&o); {
		switch o.name {
		case "sha256":
			p.SHA256 = d.checksum()
		case "colour_doubt":
			p.ColorDoubt = d.number(colorDoubtRange)
		case "light":
			d.readLight(&p)
		case "scale_error":
			p.ScaleError = d.number(scaleErrorRange)
		case "surface":
			p.Surface = *d.readEdge()
		case "reliable":
			p.Unreliable = !d.truth(true)
		}
	}
	return &p
}

func (d *Decoder) readLight(p *Photo) {
	for o := d.object(&lightFields); d.next(&o); {
		switch o.name {
		case "ev":
			p.Light.EV = d.number(evRange)
		case "ev_doubt":
			p.Light.EVDoubt = d.number(evDoubtRange)
		case "veil":
			p.Light.Veil = d.number(veilRange)
		case "veil_doubt":
			p.Light.VeilDoubt = d.number(veilDoubtRange)
		}
	}
}

func (d *Decoder) readEdge() *Edge {
	var e Edge
	before := len(d.remarks)
	for o := d.object(&edgeFields); d.next(&o); {
		switch o.name {
		case "error_mm":
			e.ErrorMM = d.number(depthRange)
		case "highest_mm":
			e.HighestMM = d.number(reliefRange)
		case "lowest_mm":
			e.LowestMM = d.number(reliefRange)
		}
	}
	if sound := len(d.remarks) == before; sound && e.HighestMM > e.LowestMM {
		d.report(d.json.StackPointer().AppendToken("highest_mm"), format(e.HighestMM),
			"at most the lowest_mm of "+format(e.LowestMM)+": depths count downwards")
	}
	return &e
}

// sha256Length is how many hexadecimal digits a SHA-256 has (FIPS 180-4: 256 bits).
const sha256Length = 64

// checksum reads a SHA-256.
func (d *Decoder) checksum() string {
	const want = "a SHA-256: 64 hexadecimal digits in lower case"
	raw, ok := d.read('"')
	if !ok {
		d.wrong(want)
		return ""
	}
	text := d.unquote(raw)
	if !isChecksum(text) {
		d.reportHere(quote(string(text)), want)
		return ""
	}
	return string(text)
}

func isChecksum(text []byte) bool {
	for _, digit := range text {
		if (digit < '0' || digit > '9') && (digit < 'a' || digit > 'f') {
			return false
		}
	}
	return len(text) == sha256Length
}
