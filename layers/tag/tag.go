// Package tag is the glass tag: a printed square on the pane that says which tank and station a photo shows and
// how large a millimetre is. It says what stands on the paper and where; figure draws it and
// layers/photo/tagged finds it.
package tag

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"panecore/layers"
)

// Tag is what a glass tag says.
type Tag struct {
	Tank    string
	Station string
	SizeMM  float64 // between the middles of neighbouring corner marks
}

// Sizes, mm. From a phone's distance a smaller tag has too few pixels, and a larger one hides too much of a pane
// (assumptions).
const (
	LeastSize    = 20.0
	GreatestSize = 120.0
	UsualSize    = 40.0
)

// begin opens the text of a tag: whose it is, and the version of its form.
const begin = "PANECORE:1/"

// wanted is the form of a tag's text.
const wanted = begin + "TANK/STATION/SIZE, the size in mm"

// Text is what the code holds: "PANECORE:1/KETTLE/FRONT/40", the size in mm to a tenth. It keeps to the letters that a
// QR code packs best (ISO/IEC 18004, alphanumeric mode): small letters are written large, and what is no small letter,
// digit, hyphen or dot as % and two hexadecimal digits for each byte of UTF-8.
func (t Tag) Text() string {
	return begin + escape(t.Tank) + "/" + escape(t.Station) + "/" + strconv.FormatFloat(tenths(t.SizeMM), 'f', -1, 64)
}

// tenths rounds a length to what a tag's text can hold.
func tenths(mm float64) float64 { return math.Round(mm*10) / 10 }

func escape(name string) string {
	var b strings.Builder
	for i := range len(name) {
		switch c := name[i]; {
		case 'a' <= c && c <= 'z':
			b.WriteByte(c - 'a' + 'A')
		case '0' <= c && c <= '9', c == '-', c == '.':
			b.WriteByte(c)
		default:
			fmt.Fprintf(&b, "%%%02X", c)
		}
	}
	return b.String()
}

// Parse reads the text of a tag. Each tag has one text, and any other is refused.
func Parse(text string) (Tag, error) {
	bad := fmt.Errorf("found %.80q, want %s", text, wanted)
	rest, ours := strings.CutPrefix(text, begin)
	parts := strings.Split(rest, "/")
	if !ours || len(parts) != 3 {
		return Tag{}, bad
	}
	size, err := strconv.ParseFloat(parts[2], 64)
	if err != nil {
		return Tag{}, bad
	}
	t := Tag{unescape(parts[0]), unescape(parts[1]), size}
	if err := t.check(); err != nil {
		return Tag{}, err
	}
	if t.Text() != text {
		return Tag{}, bad
	}
	return t, nil
}

// unescape reads a name. What is not written as escape does is caught when the text is written again.
func unescape(text string) string {
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		c := text[i]
		if c == '%' && i+2 < len(text) {
			n, err := strconv.ParseUint(text[i+1:i+3], 16, 8)
			if err == nil {
				b.WriteByte(byte(n))
				i += 2
				continue
			}
		}
		b.WriteString(strings.ToLower(string(rune(c))))
	}
	return b.String()
}

// check refuses names and sizes that no tag has.
func (t Tag) check() error {
	if _, err := layers.ParseName(t.Tank); err != nil {
		return fmt.Errorf("tank of a tag: %w", err)
	}
	if _, err := layers.ParseName(t.Station); err != nil {
		return fmt.Errorf("station of a tag: %w", err)
	}
	return CheckSize(t.SizeMM)
}

// CheckSize refuses a size that no tag has, mm.
func CheckSize(mm float64) error {
	if !(mm >= LeastSize && mm <= GreatestSize) {
		return fmt.Errorf("found a tag of %.4g mm, want %g to %g mm", mm, LeastSize, GreatestSize)
	}
	return nil
}

// ParsePlace reads a tank and a station, TANK/STATION. A station has no slash here.
func ParsePlace(text string) (tank, station string, err error) {
	at := strings.LastIndex(text, "/")
	if at < 0 {
		return "", "", fmt.Errorf("found %q, want TANK/STATION, as in kettle/front", text)
	}
	if tank, err = layers.ParseName(text[:at]); err == nil {
		station, err = layers.ParseName(text[at+1:])
	}
	if err != nil {
		return "", "", fmt.Errorf("%w, in TANK/STATION", err)
	}
	return tank, station, nil
}

// errLong is the error for names that make a code of too small modules.
var errLong = errors.New("found names of a tank and a station that are too long for a tag, want about 100 letters together; letters other than a to z count three or more")
