package picture

import (
	"image"
	"image/color"
)

// A rowReader fills dst with the light of a run of stored pixels.
type rowReader func(dst []Light, r run)

// newRowReader has a fast reader for every type of picture that the decoders make, all of which
// begin at (0, 0), and a slow one for any other.
func newRowReader(img image.Image, codes yCbCr) rowReader {
	switch img := img.(type) {
	case *image.YCbCr:
		return codes.rows(img)
	case *image.NYCbCrA:
		return codes.rows(&img.YCbCr)
	case *image.Gray:
		return indexedRows(img.Pix, img.Stride, greys())
	case *image.Paletted:
		return indexedRows(img.Pix, img.Stride, lightsOf(img.Palette))
	case *image.RGBA:
		return byteRows(img.Pix, img.Stride)
	case *image.NRGBA:
		return byteRows(img.Pix, img.Stride)
	case *image.Gray16:
		return wordRows(img.Pix, img.Stride, 2)
	case *image.RGBA64:
		return wordRows(img.Pix, img.Stride, 8)
	case *image.NRGBA64:
		return wordRows(img.Pix, img.Stride, 8)
	}
	return anyRows(img)
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

func (k yCbCr) rows(img *image.YCbCr) rowReader {
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
				ramp[uint32((luma+k.crRed*cr)>>16+rampZero)%rampSize],
				ramp[uint32((luma+k.cbGreen*cb+k.crGreen*cr)>>16+rampZero)%rampSize],
				ramp[uint32((luma+k.cbBlue*cb)>>16+rampZero)%rampSize],
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

func greys() *[256]Light {
	lights := new([256]Light)
	for code := range lights {
		l := lightOf(uint8(code))
		lights[code] = Light{l, l, l}
	}
	return lights
}

func lightsOf(palette color.Palette) *[256]Light {
	lights := new([256]Light)
	for i, c := range palette {
		if o, ok := c.(color.NRGBA); ok { // so that transparency doesn't darken it
			o.A = 255
			c = o
		}
		red, green, blue, _ := c.RGBA()
		lights[i] = Light{lightOfWord(red), lightOfWord(green), lightOfWord(blue)}
	}
	return lights
}

// byteRows reads pixels of four bytes: red, green, blue and one to ignore.
func byteRows(pix []uint8, stride int) rowReader {
	return func(dst []Light, r run) {
		at, step := r.y*stride+4*r.x, r.dy*stride+4*r.dx
		for i := range dst {
			dst[i] = Light{lightOf(pix[at]), lightOf(pix[at+1]), lightOf(pix[at+2])}
			at += step
		}
	}
}

// wordRows reads pixels of 16-bit codes, high byte first: grey ones of two bytes or coloured
// ones of eight.
func wordRows(pix []uint8, stride, size int) rowReader {
	long := newLongRamp()
	green := size / 4
	return func(dst []Light, r run) {
		at, step := r.y*stride+size*r.x, r.dy*stride+size*r.dx
		word := func(at int) uint16 { return long[uint16(pix[at])<<8|uint16(pix[at+1])] }
		for i := range dst {
			dst[i] = Light{word(at), word(at + green), word(at + 2*green)}
			at += step
		}
	}
}

func anyRows(img image.Image) rowReader {
	long := newLongRamp()
	return func(dst []Light, r run) {
		for i := range dst {
			red, green, blue, _ := img.At(r.x+i*r.dx, r.y+i*r.dy).RGBA()
			dst[i] = Light{long[red], long[green], long[blue]}
		}
	}
}
