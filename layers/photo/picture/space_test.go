package picture

import (
	"bytes"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

const profiles = "../../../testdata/profiles"

func readProfile(t *testing.T, name string) []byte {
	t.Helper()
	icc, err := os.ReadFile(filepath.Join(profiles, name+".icc"))
	if err != nil {
		t.Fatal(err)
	}
	return icc
}

// The light of every kind of curve and of other primaries, beside what little CMS makes of it.
func TestProfileSpace_littleCMS(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/checks/profiles.csv")
	if err != nil {
		t.Fatal(err)
	}
	table := csv.NewReader(bytes.NewReader(data))
	table.Comment = '#'
	rows, err := table.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	toXYZ := inverse(d50ToSRGB)
	for _, row := range rows[1:] {
		s := profileSpace(readProfile(t, row[0]))
		if s.unread != "" {
			t.Errorf("%s: not read", row[0])
			continue
		}
		var n [6]float64
		for i := range n {
			if n[i], err = strconv.ParseFloat(row[1+i], 64); err != nil {
				t.Fatal(err)
			}
		}
		ramps := s.curves.ramps()
		light := ramps.light(uint8(n[0]), uint8(n[1]), uint8(n[2]))
		if row[0] == "grey" {
			light[1], light[2] = light[0], light[0]
		}
		p := Picture{toSRGB: s.toSRGB}
		got := toXYZ.apply(p.SRGB([3]float64{float64(light[0]) / full, float64(light[1]) / full, float64(light[2]) / full}))
		for i := range got {
			if off := math.Abs(100*got[i] - n[3+i]); off > 0.03 { // the white of ICC is rounded
				t.Errorf("%v: got %c of %.4f", row, "XYZ"[i], 100*got[i])
			}
		}
	}
}

// Whatever is wrong with a profile, the codes are taken for sRGB, and it is named.
func TestProfileSpace_unread(t *testing.T) {
	sound := readProfile(t, "para4")
	change := func(old, with string) []byte { return bytes.Replace(sound, []byte(old), []byte(with), 1) }
	for what, icc := range map[string][]byte{
		"no curve of green":         change("gTRC", "gone"),
		"an unknown curve":          change("para", "para\x00\x00\x00\x00\x00\x09")[:len(sound)],
		"a printer's":               change("RGB ", "CMYK"),
		"no red":                    change("rXYZ", "gone"),
		"cut off":                   sound[:len(sound)-20],
		"a white that is not D50's": change("XYZ \x00\x00\x00\x00\x00\x00\x9c", "XYZ \x00\x00\x00\x00\x00\x00\x10"),
	} {
		if s := profileSpace(icc); s.unread == "" || s.toSRGB != nil || s.curves.ramps() != (ramps{sRGBRamp, sRGBRamp, sRGBRamp}) {
			t.Errorf("%s: got %+v, want sRGB and a name", what, s)
		}
	}
}

// A HEIF file without a profile may name its primaries and curve by number.
func TestDecode_heifNumbers(t *testing.T) {
	if p := decodeFile(t, "p3-nclx.heic"); p.toSRGB != &p3ToSRGB || p.Profile != "" {
		t.Errorf("got %+v, want Display P3", p)
	}
	h := heif{}
	h.take(property{"colr", []byte("nclx\x00\x0c\x00\x0d\x00\x01\x00")})
	if want := newCodes(0.2126, 0.0722, false); h.codes != want || h.space.toSRGB != &p3ToSRGB {
		t.Errorf("got %+v, want codes %v and Display P3", h, want)
	}
	for _, c := range []struct {
		primaries, transfer uint64
		unread              bool
	}{{1, 13, false}, {2, 2, false}, {12, 13, false}, {9, 13, true}, {9, 16, true}, {12, 18, true}} {
		if s := spaceOf(c.primaries, c.transfer); (s.unread != "") != c.unread {
			t.Errorf("%v: got %+v", c, s)
		}
	}
}

// Y'CbCr by weights is that of the tables that are in use for JPEG and WebP.
func TestNewCodes(t *testing.T) {
	want := bt601
	want.offset-- // rounded otherwise
	if got := newCodes(0.299, 0.114, false); got != want {
		t.Errorf("got %v, want %v", got, want)
	}
	got := newCodes(0.299, 0.114, true)
	if got.crRed != jfif.crRed || got.cbBlue != jfif.cbBlue || got.crGreen != jfif.crGreen {
		t.Errorf("got %v, want %v", got, jfif)
	}
}
