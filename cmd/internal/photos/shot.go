package photos

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"math"
	"slices"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/layers/photo"
	"panecore/layers/photo/picture"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/judge"
	"panecore/reports/overlay"
)

// Shot is a photo as it was taken.
type Shot struct {
	*picture.Picture
	name    string
	Content []byte      // the file
	Day     layers.Date // zero: it doesn't say
}

// readShot reads a photo from a file, or from standard input for "-".
func readShot(s *shell.Shell, path string) (*Shot, error) {
	file, name, err := s.Open(path, "a photo")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	content, err := io.ReadAll(io.LimitReader(file, picture.MaxBytes+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: %w", name, err)
	case len(content) > picture.MaxBytes:
		return nil, shell.BadInput(name, fmt.Errorf("found more than %d MB, want at most that: save it smaller", picture.MaxBytes>>20))
	}
	return NewShot(name, content)
}

// NewShot decodes a photo; a file that is not one is bad input. Messages use name.
func NewShot(name string, content []byte) (*Shot, error) {
	shot, err := Decode(name, content)
	if err != nil {
		return nil, shell.BadInput(name, err)
	}
	return shot, nil
}

// Decode is NewShot whose error does not name the photo.
func Decode(name string, content []byte) (*Shot, error) {
	p, err := picture.Decode(content)
	if err != nil {
		return nil, err
	}
	taken, err := layers.ParseDate(p.Taken)
	if err != nil {
		taken = 0 // a camera whose clock was never set
	}
	return &Shot{p, name, content, taken}, nil
}

// sum is the SHA-256 of the photo's file, hexadecimal.
func (p *Shot) sum() string {
	sum := sha256.Sum256(p.Content)
	return hex.EncodeToString(sum[:])
}

// Reading is what a photo shows, and the picks it was read by.
type Reading struct {
	*Shot
	picks    photo.Picks
	found    *photo.Reading
	Core     layers.Core // to be filed
	Findings reports.PhotoCore
}

// Read reads the layers in a photo for a core whose date and station are set. If the core was read from the photo
// before and the layers are the same, they keep the names that the keeper gave them.
func (p *Shot) Read(picks photo.Picks, core layers.Core, tank layers.Tank, own []palette.Prototype) (*Reading, error) {
	lessons := infer.Learn(tank, own)
	view, err := photo.Look(p.Picture, picks, lessons.Matcher(core))
	if err != nil {
		return nil, p.unreadable(err)
	}
	found := view.Reading
	if cuts := labelled(found.Core, core); cuts != nil {
		if found, err = view.Recut(photo.Cut{}, cuts); err != nil {
			return nil, p.unreadable(err)
		}
	}
	return p.Interpret(found, picks, core, lessons), nil
}

// labelled are the layers as read with the keeper's names for them; nil: there are none, or the layers differ.
func labelled(read, former layers.Core) (cuts []photo.Cut) {
	if !hasLabel(former) || !sameLayers(read, former) {
		return nil
	}
	bottom := 0.0
	for i, l := range read.Layers {
		bottom += l.ThicknessMM
		cuts = append(cuts, photo.Cut{BottomMM: bottom, Band: former.Layers[i].Band})
	}
	return cuts
}

func hasLabel(core layers.Core) bool {
	return slices.ContainsFunc(core.Layers, func(l layers.Layer) bool { return l.Band != palette.NoBand })
}

// sameLayers compares thicknesses.
func sameLayers(a, b layers.Core) bool {
	return slices.EqualFunc(a.Layers, b.Layers, func(a, b layers.Layer) bool { return math.Abs(a.ThicknessMM-b.ThicknessMM) < sameMM })
}

// sameMM is how far thicknesses may differ and still be the same, mm (a report rounds it away).
const sameMM = 0.05

// Interpret says what a reading of the photo means for a core whose date and station are set, of the tank that the
// lessons are of.
func (p *Shot) Interpret(found *photo.Reading, picks photo.Picks, core layers.Core, lessons *infer.Lessons) *Reading {
	light := *found.Core.Photo
	light.SHA256 = p.sum()
	core.Layers, core.Photo = slices.Clone(found.Core.Layers), &light
	how := reports.Photo{
		PxPerMM: found.PxPerMM, RollDegrees: found.RollDegrees, GlareShare: found.GlareShare, Taken: p.Day, Warnings: found.Warnings, Marks: marksOf(picks),
		Correction: reports.Correction{
			Cards: found.Cards, Gain: found.Gain, ExposureEV: found.Light.EV, ExposureDoubt: found.Light.EVDoubt, Veil: found.Light.Veil,
		},
	}
	for i, edge := range found.Edges {
		line := reports.Line{Confidence: found.Confidence[i]}
		for _, at := range edge {
			line.Pixels = append(line.Pixels, [2]float64{at.X, at.Y})
		}
		how.Lines = append(how.Lines, line)
	}
	how.Water = topWater(found)
	how.Warnings = append(slices.Clip(how.Warnings), p.profileWarning()...) // the reading may be used again
	return &Reading{p, picks, found, core, judge.ReadPhotoCore(lessons, core, how, reports.DefaultSettings())}
}

// profileWarning warns of a colour profile that was not used.
func (p *Shot) profileWarning() []string {
	if p.Profile == "" {
		return nil
	}
	return []string{fmt.Sprintf("the photo's colours are in the profile %q, which can't be converted: they were read as sRGB", p.Profile)}
}

// unreadable tells a photo that can't be read honestly from other failures.
func (p *Shot) unreadable(err error) error {
	var refusal *photo.Refusal
	if errors.As(err, &refusal) {
		return &shell.UnreadableError{Reason: p.name + ": " + refusal.Error()}
	}
	return fmt.Errorf("%s: %w", p.name, err)
}

// The photo's small copy in the logbook (assumptions: enough to tell one from another).
const (
	previewSide    = 320 // the longer side, pixels
	previewQuality = 80  // JPEG, of 100
)

// Kept is what the logbook keeps about the photo besides its file.
func (r *Reading) Kept() (logbook.Photo, error) {
	marks := ToMarks(r.picks)
	marks.Edges = r.found.Set
	picks, err := json.Marshal(marks)
	if err != nil {
		return logbook.Photo{}, err
	}
	preview, err := Packed(overlay.Shrink(r.Picture, previewSide), previewQuality)
	return logbook.Photo{Kind: r.Format, Width: r.Width, Height: r.Height, Picks: picks, Preview: preview}, err
}

// Packed is a picture as a JPEG; quality is 1 to 100.
func Packed(img image.Image, quality int) ([]byte, error) {
	var b bytes.Buffer
	err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality})
	return b.Bytes(), err
}
