package picture

import (
	"encoding/binary"
	"math"
)

// A space is what the codes of a picture mean. The zero value is sRGB.
type space struct {
	curves curves
	toSRGB *matrix // linear light from its primaries; nil: they are those of sRGB
	unread string  // name of a profile that is taken for sRGB, since it can't be read; empty: none
}

// A matrix converts linear light.
type matrix [3][3]float64

func (m matrix) apply(v [3]float64) (w [3]float64) {
	for i := range m {
		w[i] = m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2]
	}
	return w
}

// p3ToSRGB converts linear light from Display P3 to sRGB, which share the white D65: the
// product of the two matrices in the sample code of CSS Color Module Level 4.
var p3ToSRGB = matrix{
	{1.2249401762805598, -0.2249401762805600, 0},
	{-0.0420569547096882, 1.0420569547096880, 0},
	{-0.0196375545903344, -0.0786360455506319, 1.0982736001409663},
}

// d50ToSRGB converts XYZ under D50 to linear sRGB: the product of the matrices in the sample code
// of CSS Color Module Level 4, Bradford's among them.
var d50ToSRGB = matrix{
	{3.1341358529001178, -1.6173863321612538, -0.4906619460083532},
	{-0.9787955029965920, 1.9162543773959881, 0.0334429074018960},
	{0.0719553929200744, -0.2289767598930498, 1.4053861058324125},
}

// Colorants are the red, green and blue of a colour profile, each as X, Y and Z under D50.
type colorants [3][3]float64

// From the primaries of IEC 61966-2-1 and of Display P3 (CSS Color Module Level 4), adapted to
// D50 by Bradford's matrix.
var (
	sRGBColorants = colorants{{0.4361, 0.2225, 0.0139}, {0.3851, 0.7169, 0.0971}, {0.1431, 0.0606, 0.7141}}
	p3Colorants   = colorants{{0.5151, 0.2412, -0.0011}, {0.2920, 0.6922, 0.0419}, {0.1571, 0.0666, 0.7841}}
	d50           = [3]float64{0.9642, 1, 0.8249} // ICC.1:2022, 7.2.16
)

const (
	// colorantTolerance is how far the colorants of a colour space differ between profiles
	// (assumption: rounding; other colour spaces are at least 0.02 away).
	colorantTolerance = 0.005
	// whiteTolerance is how far white may be from D50, so that a damaged profile is not believed
	// (assumption: profiles that forget to adapt D65 are 0.26 away).
	whiteTolerance = 0.05
	// curveTolerance is how far a profile's curve may be from that of sRGB and count as it
	// (assumption: what tables and parameters are rounded by).
	curveTolerance = 0.0005
)

func (c colorants) near(other colorants) bool {
	for i, xyz := range c {
		for j, value := range xyz {
			if math.Abs(value-other[i][j]) > colorantTolerance {
				return false
			}
		}
	}
	return true
}

// white reports whether red, green and blue make white, as in every sound profile.
func (c colorants) white() bool {
	for j := range d50 {
		if !(math.Abs(c[0][j]+c[1][j]+c[2][j]-d50[j]) <= whiteTolerance) {
			return false
		}
	}
	return true
}

// toSRGB is the matrix to linear sRGB; nil: the colorants are those of sRGB.
func (c colorants) toSRGB() *matrix {
	switch {
	case c.near(sRGBColorants):
		return nil
	case c.near(p3Colorants):
		return &p3ToSRGB
	}
	var m matrix
	for j, xyz := range c {
		for i, value := range d50ToSRGB.apply(xyz) {
			m[i][j] = value
		}
	}
	return &m
}

// profileSpace is what an ICC profile says by three colorants and a curve each, or by a curve of
// greys. A table of colours, as of printers, is not read; beside colorants it is passed over,
// since both describe the same.
func profileSpace(icc []byte) (s space) {
	curves, known := profileCurves(icc)
	grey := iccSpace(icc) == "GRAY"
	c := colorants{iccXYZ(iccTag(icc, "rXYZ")), iccXYZ(iccTag(icc, "gXYZ")), iccXYZ(iccTag(icc, "bXYZ"))}
	if !known || !grey && !c.white() {
		if s.unread = iccText(iccTag(icc, "desc")); s.unread == "" {
			s.unread = "without a name"
		}
		return s
	}
	s.curves = curves
	if !grey {
		s.toSRGB = c.toSRGB()
	}
	return s
}

// profileCurves are a profile's curves, nil where they are that of sRGB.
func profileCurves(icc []byte) (out curves, known bool) {
	tags := map[string][3]string{"RGB ": {"rTRC", "gTRC", "bTRC"}, "GRAY": {"kTRC", "kTRC", "kTRC"}}[iccSpace(icc)]
	for i, tag := range tags {
		c := iccCurve(iccTag(icc, tag))
		if c == nil {
			return curves{}, false
		}
		if !c.nearSRGB() {
			out[i] = c
		}
	}
	return out, true
}

func (c curve) nearSRGB() bool {
	for code := range 256 {
		if v := float64(code) / 255; math.Abs(c(v)-linear(v)) > curveTolerance {
			return false
		}
	}
	return true
}

// iccCurve reads the types curv and para (ICC.1:2022, 10.6 and 10.18); nil: it can't be read. Its
// light is within 0 to 1.
func iccCurve(tag []byte) curve {
	switch {
	case starts(tag, "curv????????"):
		return tableCurve(part(tag, 12, 2*uint64(binary.BigEndian.Uint32(tag[8:]))))
	case starts(tag, "para????????"):
		return parametricCurve(binary.BigEndian.Uint16(tag[8:]), tag[12:])
	}
	return nil
}

// tableCurve is a curve of equally spaced points, between which it is straight. No point stands
// for light as it is, a single one for a power in 256ths.
func tableCurve(points []byte) curve {
	n := len(points) / 2
	point := func(i int) float64 { return float64(binary.BigEndian.Uint16(points[2*i:])) }
	switch {
	case points == nil:
		return nil
	case n == 0:
		return func(v float64) float64 { return v }
	case n == 1:
		return func(v float64) float64 { return math.Pow(v, point(0)/256) }
	}
	return func(v float64) float64 {
		at := v * float64(n-1)
		i := min(int(at), n-2)
		share := at - float64(i)
		return ((1-share)*point(i) + share*point(i+1)) / full
	}
}

// parametricCurve is one of the five functions, whose parameters are g, a, b, c, d, e, f.
func parametricCurve(function uint16, list []byte) curve {
	counts := []int{1, 3, 4, 5, 7}
	if int(function) >= len(counts) || len(list) < 4*counts[function] {
		return nil
	}
	p := [7]float64{1, 1} // the power of the value itself
	for i := range counts[function] {
		p[i] = iccNumber(list[4*i:])
	}
	g, a, b, c, d, e, f := p[0], p[1], p[2], p[3], p[4], p[5], p[6]
	switch function {
	case 0:
		d = math.Inf(-1)
	case 1, 2: // the power begins where its base is 0; below it the curve is level
		d, e, f, c = -b/a, c, c, 0
	}
	return func(v float64) float64 {
		light := c*v + f
		if v >= d {
			light = math.Pow(max(0, a*v+b), g) + e
		}
		if math.IsNaN(light) {
			return 0
		}
		return min(max(0, light), 1)
	}
}
