// Package heic decodes HEIC pictures. libheif and libde265 do so as WebAssembly, in a sandbox that
// bounds their memory: whatever is wrong with a file, the program goes on. README.md says where
// they come from.
package heic

import (
	"bytes"
	"compress/gzip"
	"context"
	_ "embed"
	"errors"
	"fmt"
	"image"
	"io"
	"slices"
	"sync"
	"time"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"
)

// Bounds of one decoding (assumptions). A picture of 64 megapixels takes half of the memory, one
// of 12 a few seconds. A decoding that takes longer is left to itself: to stop it from outside,
// every loop would have to look for that, and each picture would take three times as long.
const (
	mostMemory = 1 << 30 // bytes
	mostTime   = 2 * time.Minute
)

const pageSize = 1 << 16 // of WebAssembly's memory, bytes

var (
	errDamaged = errors.New("heic: the decoder can't read it")
	errLong    = fmt.Errorf("heic: decoding takes more than %v", mostTime)
)

// Decode reads the first picture of a file, turned upright as the file says. The pixels are the
// file's own, with 8 bits: an *image.YCbCr, whose codes the file explains, *image.Gray or *image.NRGBA.
func Decode(data []byte) (image.Image, error) {
	s, err := sandboxes()
	if err != nil {
		return nil, err
	}
	type result struct {
		img image.Image
		err error
	}
	ctx, cancel := context.WithTimeout(context.Background(), mostTime)
	defer cancel()
	done := make(chan result, 1)
	go func() {
		img, err := s.decode(data)
		done <- result{img, err}
	}()
	select {
	case r := <-done:
		return r.img, r.err
	case <-ctx.Done():
		return nil, errLong
	}
}

//go:embed heif.wasm.gz
var packed []byte

// sandbox makes a module with a memory of its own for each picture.
type sandbox struct {
	runtime wazero.Runtime
	code    wazero.CompiledModule
}

// sandboxes compiles the decoder once, when the first picture comes.
var sandboxes = sync.OnceValues(func() (*sandbox, error) {
	unpack, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	code, err := io.ReadAll(unpack)
	if err != nil {
		return nil, err
	}
	ctx := context.Background()
	runtime := wazero.NewRuntimeWithConfig(ctx, wazero.NewRuntimeConfig().WithMemoryLimitPages(mostMemory/pageSize))
	if _, err := wasi_snapshot_preview1.Instantiate(ctx, runtime); err != nil {
		return nil, err
	}
	compiled, err := runtime.CompileModule(ctx, code)
	return &sandbox{runtime, compiled}, err
})

func (s *sandbox) decode(data []byte) (img image.Image, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			img, err = nil, fmt.Errorf("heic: %v", fault)
		}
	}()
	ctx := context.Background()
	module, err := s.runtime.InstantiateModule(ctx, s.code, wazero.NewModuleConfig().WithName(""))
	if err != nil {
		return nil, errDamaged
	}
	defer module.Close(ctx)
	c := call{ctx: ctx, module: module}
	c.file, c.size = c.room(len(data)), uint64(len(data))
	c.header = c.room(headerSize)
	if c.failed || !module.Memory().Write(uint32(c.file), data) {
		return nil, errDamaged
	}
	// The decoder looks at the main brand alone, which may also be that of any HEIF file.
	if !module.Memory().WriteString(uint32(c.file)+8, "heic") || !c.decode(true, 0) {
		return nil, errDamaged
	}
	return c.planes()
}

// The decoder's answer: width, height, what the pixels are, how their chroma is thinned, and
// whether they are multiplied by their opacity, four bytes each.
const headerSize = 5 * 4

// What the pixels are, and how their chroma is thinned (libheif's heif.h).
const (
	luma       = 0 // and chroma
	rgb        = 1 // and opacity
	monochrome = 2
	noChroma   = 0
	thin420    = 1
	thin422    = 2
	thin444    = 3
)

// call is a run of the decoder. Once something failed, nothing more is called.
type call struct {
	ctx                context.Context
	module             api.Module
	file, size, header uint64 // places in its memory, and the file's length
	failed             bool
}

func (c *call) run(function string, arguments ...uint64) uint64 {
	if c.failed {
		return 0
	}
	results, err := c.module.ExportedFunction(function).Call(c.ctx, arguments...)
	if err != nil || len(results) != 1 || results[0] == 0 {
		c.failed = true
		return 0
	}
	return results[0]
}

// room is a place for so many bytes.
func (c *call) room(size int) uint64 {
	if size >= mostMemory {
		c.failed = true
	}
	return c.run("malloc", uint64(size))
}

// decode reads the size only, or the pixels too, which it writes to a place.
func (c *call) decode(sizeOnly bool, place uint64) bool {
	only := uint64(0)
	if sizeOnly {
		only = 1
	}
	h := c.header
	c.run("decode", c.file, c.size, only, h, h+4, h+8, h+12, h+16, place)
	return !c.failed
}

func (c *call) headerAt(i int) int {
	value, ok := c.module.Memory().ReadUint32Le(uint32(c.header) + 4*uint32(i))
	c.failed = c.failed || !ok
	return int(value)
}

// planes decodes the pixels and copies them out of the sandbox.
func (c *call) planes() (image.Image, error) {
	width, height, pixels, thin := c.headerAt(0), c.headerAt(1), c.headerAt(2), c.headerAt(3)
	if c.failed || width < 1 || height < 1 || width > mostMemory/height {
		return nil, errDamaged
	}
	bounds := image.Rect(0, 0, width, height)
	if pixels == luma && thin == noChroma {
		pixels = monochrome
	}
	switch pixels {
	case luma:
		ratios := map[int]image.YCbCrSubsampleRatio{
			thin420: image.YCbCrSubsampleRatio420, thin422: image.YCbCrSubsampleRatio422, thin444: image.YCbCrSubsampleRatio444,
		}
		ratio, known := ratios[thin]
		if !known {
			return nil, errDamaged
		}
		chromaWidth, chromaHeight := width, height
		if thin != thin444 {
			chromaWidth = (width + 1) / 2
		}
		if thin == thin420 {
			chromaHeight = (height + 1) / 2
		}
		img := &image.YCbCr{YStride: stride(width), CStride: stride(chromaWidth), SubsampleRatio: ratio, Rect: bounds}
		first, second := img.YStride*height, img.YStride*height+img.CStride*chromaHeight
		all := c.pixels(second + img.CStride*chromaHeight)
		if all == nil {
			return nil, errDamaged
		}
		img.Y, img.Cb, img.Cr = all[:first:first], all[first:second:second], all[second:]
		return img, nil
	case monochrome:
		img := &image.Gray{Stride: stride(width), Rect: bounds}
		if img.Pix = c.pixels(img.Stride * height); img.Pix == nil {
			return nil, errDamaged
		}
		return img, nil
	case rgb:
		img := &image.NRGBA{Stride: 4 * stride(width), Rect: bounds}
		if img.Pix = c.pixels(img.Stride * height); img.Pix == nil {
			return nil, errDamaged
		}
		return img, nil
	}
	return nil, errDamaged
}

// stride is how many pixels libheif makes room for in a row (HeifPixelImage::ImagePlane::alloc): at
// least 64, and a multiple of 16.
func stride(width int) int { return (max(64, width) + 15) &^ 15 }

// pixels is a copy of what the decoder writes, in so many bytes; nil: it failed.
func (c *call) pixels(size int) []byte {
	place := c.room(size)
	if c.failed || !c.decode(false, place) {
		return nil
	}
	found, ok := c.module.Memory().Read(uint32(place), uint32(size))
	if !ok {
		return nil
	}
	return slices.Clone(found)
}
