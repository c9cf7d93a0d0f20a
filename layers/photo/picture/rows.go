package picture

import (
	"image"
	"image/color"
	"math"
)

// A rowReader fills dst with the light of a run of stored pixels.
type rowReader func(dst []Light, r run)

// newRowReader has a fast reader for every type of picture that the decoders make, all of which
// begin at (0, 0), and a slow one for any other.
func newRowReader(img image.Image, codes yCbCr, curves curves) rowReader {
	switch img := img.(type) {
	case *image.YCbCr:
		return codes.rows(img, curves.ramps())
	case *image.NYCbCrA:
		return codes.rows(&img.YCbCr, curves.ramps())
	case *image.Gray:
		return indexedRows(img.Pix, img.Stride, greys(curves))
	case *image.Paletted:
		return indexedRows(img.Pix, img.Stride, lightsOf(img.Palette, curves))
	case *image.RGBA:
		return byteRows(img.Pix, img.Stride, curves.ramps())
	case *image.NRGBA:
		return byteRows(img.Pix, img.Stride, curves.ramps())
	case *image.Gray16:
		return wordRows(img.Pix, img.Stride, 2, curves.longRamps())
	case *image.RGBA64:
		return wordRows(img.Pix, img.Stride, 8, curves.longRamps())
	case *image.NRGBA64:
		return wordRows(img.Pix, img.Stride, 8, curves.longRamps())
	}
	return anyRows(img, curves.longRamps())
}

// A yCbCr says how red, green and blue follow from luma and the two chroma values, which count
// from 128. Factors are in 65536ths.
type yCbCr struct{ luma, offset, crRed, cbGreen, crGreen, cbBlue int32 }

var (
	// jfif has full-range codes and the rounding of color.YCbCrToRGB, to the last bit.
	jfif = yCbCr{0x10101, 0, 91881, -22554, -46802, 116130}
	// bt601 has black at 16, white at 235 and 224 steps of chroma (ITU-R BT.601, which RFC 9649
	// names for WebP). The WebP decoder labels them as JFIF (golang.org/issue/40173).
	bt601 = yCbCr{76309, 1<<15 - 16*76309, 104597, -25675, -53279, 132201}
)

// newCodes are codes by luma's weights of red and blue, wide of the full range or else as bt601
// (ITU-T H.273, 8.3).
func newCodes(red, blue float64, wide bool) yCbCr {
	const unit = 1 << 16
	black, luma, chroma := 0., 1., 1.
	if !wide {
		black, luma, chroma = 16, 255./219, 255./224
	}
	green := 1 - red - blue
	fixed := func(v float64) int32 { return int32(math.Round(v * unit)) }
	return yCbCr{
		luma: fixed(luma), offset: fixed(0.5 - black*luma),
		crRed: fixed(2 * (1 - red) * chroma), cbBlue: fixed(2 * (1 - blue) * chroma),
		cbGreen: fixed(-2 * (1 - blue) * chroma * blue / green), crGreen: fixed(-2 * (1 - red) * chroma * red / green),
	}
}

func (k yCbCr) rows(img *image.YCbCr, ramps ramps) rowReader {
	reds, greens, blues := ramps[0], ramps[1], ramps[2]
	across, down := subsampling(img.SubsampleRatio)
	return func(dst []Light, r run) {
		y, step := r.y*img.YStride+r.x, r.dy*img.YStride+r.dx
		// Along the run, a chroma sample serves 1 << shift pixels.
		at, delta, shift, chroma, chromaStep := r.x, r.dx, across, (r.y>>down)*img.CStride, 1
		if r.dy != 0 {
			at, delta, shift, chroma, chromaStep = r.y, r.dy, down, r.x>>across, img.CStride
		}
		for i := range dst {
			c := chroma + (at>>shift)*chromaStep
			luma, cb, cr := k.luma*int32(img.Y[y])+k.offset, int32(img.Cb[c])-128, int32(img.Cr[c])-128
			dst[i] = Light{
				reds[uint32((luma+k.crRed*cr)>>16+rampZero)%rampSize],
				greens[uint32((luma+k.cbGreen*cb+k.crGreen*cr)>>16+rampZero)%rampSize],
				blues[uint32((luma+k.cbBlue*cb)>>16+rampZero)%rampSize],
			}
			y += step
			at += delta
		}
	}
}

// subsampling is how far chroma is subsampled, as powers of two.
func subsampling(ratio image.YCbCrSubsampleRatio) (across, down uint) {
	switch ratio {
	case image.YCbCrSubsampleRatio422:
		return 1, 0
	case image.YCbCrSubsampleRatio420:
		return 1, 1
	case image.YCbCrSubsampleRatio440:
		return 0, 1
	case image.YCbCrSubsampleRatio411:
		return 2, 0
	case image.YCbCrSubsampleRatio410:
		return 2, 1
	}
	return 0, 0
}

func indexedRows(pix []uint8, stride int, lights *[256]Light) rowReader {
	return func(dst []Light, r run) {
		at, step := r.y*stride+r.x, r.dy*stride+r.dx
		for i := range dst {
			dst[i] = lights[pix[at]]
			at += step
		}
	}
}

func greys(curves curves) *[256]Light {
	lights, ramps := new([256]Light), curves.ramps()
	for code := range lights {
		lights[code] = ramps.light(uint8(code), uint8(code), uint8(code))
	}
	return lights
}

func lightsOf(palette color.Palette, curves curves) *[256]Light {
	lights := new([256]Light)
	for i, c := range palette {
		if o, ok := c.(color.NRGBA); ok { // so that transparency doesn't darken it
			o.A = 255
			c = o
		}
		red, green, blue, _ := c.RGBA()
		for channel, code := range []uint32{red, green, blue} {
			lights[i][channel] = curves[channel].light(float64(code) / full)
		}
	}
	return lights
}

// byteRows reads pixels of four bytes: red, green, blue and one to ignore.
func byteRows(pix []uint8, stride int, ramps ramps) rowReader {
	return func(dst []Light, r run) {
		at, step := r.y*stride+4*r.x, r.dy*stride+4*r.dx
		for i := range dst {
			dst[i] = ramps.light(pix[at], pix[at+1], pix[at+2])
			at += step
		}
	}
}

// wordRows reads pixels of 16-bit codes, high byte first: grey ones of two bytes or coloured
// ones of eight.
func wordRows(pix []uint8, stride, size int, ramps [3]*longRamp) rowReader {
	green := size / 4
	return func(dst []Light, r run) {
		at, step := r.y*stride+size*r.x, r.dy*stride+size*r.dx
		word := func(channel, at int) uint16 { return ramps[channel][uint16(pix[at])<<8|uint16(pix[at+1])] }
		for i := range dst {
			dst[i] = Light{word(0, at), word(1, at+green), word(2, at+2*green)}
			at += step
		}
	}
}

func anyRows(img image.Image, ramps [3]*longRamp) rowReader {
	return func(dst []Light, r run) {
		for i := range dst {
			red, green, blue, _ := img.At(r.x+i*r.dx, r.y+i*r.dy).RGBA()
			dst[i] = Light{ramps[0][red], ramps[1][green], ramps[2][blue]}
		}
	}
}
