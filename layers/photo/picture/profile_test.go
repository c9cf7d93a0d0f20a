package picture

import (
	"bytes"
	"encoding/binary"
	"math"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
)

// seen is a colour of linear sRGB for go-colorful's CIEDE2000.
func seen(c [3]float64) colorful.Color { return colorful.LinearRgb(c[0], c[1], c[2]) }

func linearOf(code [3]uint8) (c [3]float64) {
	for i := range c {
		c[i] = linear(float64(code[i]) / 255)
	}
	return c
}

// squares are rust, brown and grey, 16 pixels each, in the files of this name.
var squares = [][3]uint8{{0xb5, 0x56, 0x2b}, {0x5b, 0x46, 0x32}, {0x77, 0x77, 0x77}}

// The same three colours of sRGB, written by other programs in the codes of Display P3 or Adobe
// RGB: all come back, within the rounding of the codes, what JPEG loses and, with 16 bits, the
// few points that the profile's curve has.
func TestSRGB_squares(t *testing.T) {
	for name, tolerance := range map[string]float64{
		"p3.png": 0.4, "p3.webp": 0.4, "p3.tif": 0.4, "p3.jpg": 0.8, "p3-16.png": 0.2,
		"srgb.png": 0.01, "squares.png": 0.01,
		"p3.heic": 0.8, "adobe.jpg": 1.4,
	} {
		p := decodeFile(t, name)
		row := make([]Light, p.Width)
		p.Row(row, 0, 8)
		for i, want := range squares {
			var c [3]float64
			for j := range c {
				c[j] = float64(row[16*i+8][j]) / full
			}
			if off := 100 * seen(p.SRGB(c)).DistanceCIEDE2000(seen(linearOf(want))); off > tolerance {
				t.Errorf("%s: colour %d is off by %.3f CIEDE2000, want at most %g", name, i, off, tolerance)
			}
		}
		if p.Profile != "" {
			t.Errorf("%s: named profile %q, want none", name, p.Profile)
		}
	}
}

// What the three colours move by where the profile is overlooked: 3.1, 1.9 and 0 CIEDE2000,
// computed from the same definitions by other code.
func TestSRGB_costOfNeglect(t *testing.T) {
	toP3 := inverse(p3ToSRGB)
	for i, want := range []float64{3.1, 1.9, 0} {
		c := linearOf(squares[i])
		if got := 100 * seen(toP3.apply(c)).DistanceCIEDE2000(seen(c)); math.Abs(got-want) > 0.1 { // a code moves them so far
			t.Errorf("colour %d moves by %.2f CIEDE2000, want %.1f", i, got, want)
		}
	}
}

// Colours at the edge of Display P3 leave the scale of sRGB, and any scale is kept.
func TestSRGB_beyond(t *testing.T) {
	p := Picture{toSRGB: &p3ToSRGB}
	small, large := p.SRGB([3]float64{0, 1, 0}), p.SRGB([3]float64{0, 65535, 0})
	if small[0] >= 0 || small[1] <= 1 {
		t.Errorf("got %v for the purest green, want one outside 0 to 1", small)
	}
	for i := range small {
		if math.Abs(65535*small[i]-large[i]) > 1e-9 {
			t.Errorf("got %v and %v, want the same on both scales", small, large)
		}
	}
}

// The matrix and the colorants follow from the chromaticities of the primaries and of the
// whites D65 and D50 (CSS Color Module Level 4), and Bradford's matrix.
func TestColorants_fromPrimaries(t *testing.T) {
	d65, d50 := white(0.3127, 0.3290), white(0.3457, 0.3585)
	srgb := toXYZ([3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}, d65)
	p3 := toXYZ([3][2]float64{{0.68, 0.32}, {0.265, 0.69}, {0.15, 0.06}}, d65)
	between := inverse(srgb).times(p3)
	for i := range between {
		for j := range between[i] {
			if math.Abs(between[i][j]-p3ToSRGB[i][j]) > 1e-9 {
				t.Errorf("P3 to sRGB, row %d, column %d: got %.12f, want %.12f", i, j, p3ToSRGB[i][j], between[i][j])
			}
		}
	}
	bradford := matrix{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}
	from, to := bradford.apply(d65), bradford.apply(d50)
	adapt := inverse(bradford).times(matrix{{to[0] / from[0], 0, 0}, {0, to[1] / from[1], 0}, {0, 0, to[2] / from[2]}}).times(bradford)
	for name, c := range map[string]struct {
		under65 matrix
		listed  colorants
	}{"sRGB": {srgb, sRGBColorants}, "Display P3": {p3, p3Colorants}} {
		under50 := adapt.times(c.under65)
		for color := range c.listed {
			for i, got := range c.listed[color] {
				if want := under50[i][color]; math.Abs(got-want) > 0.0003 { // ICC's D50 is rounded
					t.Errorf("%s, colorant %d: got %v, want %.4f", name, color, got, want)
				}
			}
		}
	}
}

func (m matrix) times(n matrix) (product matrix) {
	for j := range n {
		for i, value := range m.apply([3]float64{n[0][j], n[1][j], n[2][j]}) {
			product[i][j] = value
		}
	}
	return product
}

func inverse(m matrix) (n matrix) {
	cofactor := func(i, j int) float64 {
		a, b, c, d := (i+1)%3, (i+2)%3, (j+1)%3, (j+2)%3
		return m[a][c]*m[b][d] - m[a][d]*m[b][c]
	}
	determinant := m[0][0]*cofactor(0, 0) + m[0][1]*cofactor(0, 1) + m[0][2]*cofactor(0, 2)
	for i := range n {
		for j := range n[i] {
			n[i][j] = cofactor(j, i) / determinant
		}
	}
	return n
}

// white is the XYZ of a chromaticity at Y = 1.
func white(x, y float64) [3]float64 { return [3]float64{x / y, 1, (1 - x - y) / y} }

// toXYZ is the matrix from linear light of three primaries and their white to XYZ.
func toXYZ(primaries [3][2]float64, light [3]float64) (m matrix) {
	for j, p := range primaries {
		for i, value := range white(p[0], p[1]) {
			m[i][j] = value
		}
	}
	for j, scale := range inverse(m).apply(light) {
		for i := range m {
			m[i][j] *= scale
		}
	}
	return m
}

// iccProfile is a profile of tags without colorants.
func iccProfile(tags map[string]string) []byte {
	icc := make([]byte, iccHeader)
	copy(icc[36:], "acsp")
	icc = binary.BigEndian.AppendUint32(icc, uint32(len(tags)))
	at := len(icc) + iccTagEntry*len(tags)
	var contents []byte
	for signature, content := range tags {
		icc = append(icc, signature...)
		icc = binary.BigEndian.AppendUint32(icc, uint32(at+len(contents)))
		icc = binary.BigEndian.AppendUint32(icc, uint32(len(content)))
		contents = append(contents, content...)
	}
	return append(icc, contents...)
}

func TestProfileSpace_names(t *testing.T) {
	mluc := "mluc\x00\x00\x00\x00" + "\x00\x00\x00\x01\x00\x00\x00\x0c" + "enUS\x00\x00\x00\x08\x00\x00\x00\x1c" + "\x00W\x00i\x00d\x00e"
	for _, c := range []struct{ what, desc, want string }{
		{"older text", "desc\x00\x00\x00\x00\x00\x00\x00\x05Wide\x00", "Wide"},
		{"newer text", mluc, "Wide"},
		{"a line break in it", "desc\x00\x00\x00\x00\x00\x00\x00\x05W\nde\x00", "Wde"},
		{"cut off", "desc\x00\x00\x00\x00\x00\x00\x00\xffWide", "without a name"},
		{"another type", "text\x00\x00\x00\x00Wide", "without a name"},
		{"none", "", "without a name"},
	} {
		if got := profileSpace(iccProfile(map[string]string{"desc": c.desc})); got.toSRGB != nil || got.unread != c.want {
			t.Errorf("%s: got %+v, want %q", c.what, got, c.want)
		}
	}
}

// A profile in two parts, as longer ones are (ICC.1:2022, B.4).
func TestJPEGBlocks_profileInParts(t *testing.T) {
	whole := readFile(t, "p3.jpg")
	_, icc := jpegBlocks(whole)
	at := bytes.Index(whole, []byte("ICC_PROFILE\x00")) - 4
	end := at + 2 + int(binary.BigEndian.Uint16(whole[at+2:]))
	segment := func(content []byte, number byte) []byte {
		s := binary.BigEndian.AppendUint16([]byte{0xff, 0xe2}, uint16(2+14+len(content)))
		return append(append(s, "ICC_PROFILE\x00"+string(number)+"\x02"...), content...)
	}
	parts := append(segment(icc[:200], 1), segment(icc[200:], 2)...)
	p, err := Decode(bytes.Join([][]byte{whole[:at], parts, whole[end:]}, nil))
	if err != nil || p.toSRGB != &p3ToSRGB {
		t.Errorf("got %+v, %v, want Display P3", p, err)
	}
}
