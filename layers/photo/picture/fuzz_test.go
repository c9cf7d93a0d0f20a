package picture

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// addFiles seeds with the pictures in testdata.
func addFiles(f *testing.F) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		f.Fatal(err)
	}
	for _, e := range entries {
		if !e.IsDir() && filepath.Ext(e.Name()) != ".md" {
			f.Add(readFile(f, e.Name()))
		}
	}
}

// Whatever the bytes, there comes a picture that can be read whole, or one line of error.
func FuzzDecode(f *testing.F) {
	addFiles(f)
	f.Add(claim(8000, 8000))
	decodeFile(f, "420.heic") // its decoder is compiled before an input's time counts
	f.Fuzz(func(t *testing.T, data []byte) {
		const most = 1 << 14 // bytes, and pixels: to be quick
		if len(data) > most {
			t.Skip()
		}
		if kind, err := kindOf(data); err == nil {
			if config, err := kind.config(bytes.NewReader(data)); err == nil && config.Width*config.Height > most {
				t.Skip()
			}
		}
		p, err := Decode(data)
		if err != nil {
			if strings.Contains(err.Error(), "\n") || !strings.HasPrefix(err.Error(), "found ") {
				t.Errorf("got %q, want a line that says what was found", err)
			}
			return
		}
		row := make([]Light, p.Width)
		for y := range p.Height {
			p.Row(row, 0, y)
		}
		if len(p.Taken) != 0 && len(p.Taken) != len("2026-11-01") || strings.Contains(p.Profile, "\n") {
			t.Errorf("got date %q and profile %q", p.Taken, p.Profile)
		}
	})
}

// FuzzMetadata reads the blocks of whole files, and anything as a block by itself.
func FuzzMetadata(f *testing.F) {
	addFiles(f)
	_, icc := jpegBlocks(readFile(f, "p3.jpg"))
	f.Add(icc)
	exif, _ := jpegBlocks(readFile(f, "orientation-6.jpg"))
	f.Add(exif)
	f.Fuzz(func(t *testing.T, data []byte) {
		exif, icc := data, data
		if kind, err := kindOf(data); err == nil {
			exif, icc = kind.blocks(data)
		}
		if o, day := readEXIF(exif); o < 1 || o > 8 || len(day) != 0 && len(day) != len("2026-11-01") {
			t.Errorf("got orientation %d and date %q", o, day)
		}
		if !starts(icc, iccMagic) {
			return
		}
		space := profileSpace(icc)
		if space.toSRGB != nil && space.unread != "" || strings.Contains(space.unread, "\n") {
			t.Errorf("got the matrix %v of a profile %q", space.toSRGB, space.unread)
		}
		for _, c := range space.curves {
			for v := 0.; c != nil && v <= 1; v += 1. / 16 {
				if light := c(v); !(light >= 0 && light <= 1) {
					t.Errorf("got light %g of %g, want 0 to 1", light, v)
				}
			}
		}
	})
}
