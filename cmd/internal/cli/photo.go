package cli

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"panecore/layers"
	"panecore/layers/photo"
	"panecore/layers/photo/picture"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/judge"
	"panecore/reports/overlay"
	"panecore/reports/table"
)

type photoOptions struct {
	file    string
	picks   photo.Picks
	native  []layers.Native
	tank    string // empty: the reading is shown only
	key     coreKey
	seen    seen
	replace bool
	overlay outFile // beside what is printed
}

func newPhotoCommand(s *shell) *cobra.Command {
	var o photoOptions
	cmd := &cobra.Command{
		Use:     "photo FILE|- --strip X,Y,W,H --ruler X1,Y1,X2,Y2,LENGTH",
		GroupID: groupReadings,
		Short:   "Read the layers from a photo of the glass",
		Long: `Reads the layers in a strip of the pane: their edges, their colours under the
light that a grey card tells, and what they mean. --overlay draws what was read
onto the photo: look at it before you believe it. 'panecore help photos' says
how to take a photo that can be read.

Picks are pixels of the upright picture, as any picture viewer shows them. JPEG,
PNG, WebP and TIFF are read. A photo that can't be read honestly is refused with
the reason and what would help (exit code 3).

With --tank the core is filed in the logbook and the photo is kept beside it.
The tank tells its native colours; the day is the photo's own unless --date says
otherwise. The same photo again amends its core. Without --strip and --ruler the
picks of the station's last photo are taken.`,
		Example: `  panecore photo front.jpg --strip 915,305,215,757 --surface 435 \
    --ruler 152,108,153,1003,90mm --neutral 1389,194,129,81,18% \
    --native '#d9cba6,sand' --overlay check.png
  panecore photo front.jpg --tank kettle --station front`,
		Args: oneArgument("FILE, a photo of the glass, or - for standard input"),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.file = args[0]
			if o.tank != "" {
				return runPhotoFile(cmd, s, o)
			}
			return runPhoto(cmd, s, o)
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	addPickFlags(flags, &o.picks)
	addLaidFlag(flags, &o.native)
	addOverlayFlag(flags, &o.overlay.path)
	o.overlay.addForceFlag(flags)
	s.addTankFlag(cmd, &o.tank, "file the core in the logbook, as one of `TANK`")
	flags.Func("station", "read at `STATION` (default: the tank's only one, else front)", parsed(&o.key.station, layers.ParseName))
	flags.Func("date", "read on `DATE`, YYYY-MM-DD (default: the day the photo was taken)", parsed(&o.key.date, layers.ParseDate))
	addSeenFlags(cmd, &o.seen)
	flags.BoolVar(&o.replace, "replace", false, "file it in the place of a core that was not read from this photo")
	return cmd
}

// runPhoto shows a reading that belongs to no tank.
func runPhoto(cmd *cobra.Command, s *shell, o photoOptions) error {
	for _, flag := range []string{"station", "lit", "unlit", "sign", "note", "sure", "replace"} {
		if cmd.Flags().Changed(flag) {
			return badUsage(cmd, "found --%s without --tank, want both", flag)
		}
	}
	if err := requireFlags(cmd, "strip", "ruler"); err != nil {
		return err
	}
	shot, err := s.shot(o.file)
	if err != nil {
		return err
	}
	r, err := shot.read(o.picks, layers.Core{Date: cmp.Or(o.key.date, shot.taken)}, layers.Tank{Native: o.native}, nil)
	if err != nil {
		return err
	}
	if err := s.drawOverlay(o.overlay, r); err != nil {
		return err
	}
	next := []string{"Keep it: --tank TANK and --station STATION file it in the logbook, the photo with it."}
	if len(o.native) == 0 {
		next = append(next, "Tell the substrate's colour on set-up day with --native '#hex': it settles the light and the names.")
	}
	return s.printPhoto(r, o.overlay, next)
}

// shot is a photo as it was taken.
type shot struct {
	*picture.Picture
	name    string
	content []byte
	taken   layers.Date // zero: it doesn't say
}

// shot reads a photo from a file, or from standard input for "-".
func (s *shell) shot(path string) (*shot, error) {
	file, name, err := s.open(path, "a photo")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	content, err := io.ReadAll(io.LimitReader(file, picture.MaxBytes+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: %w", name, err)
	case len(content) > picture.MaxBytes:
		return nil, badInput(name, fmt.Errorf("found more than %d MB, want at most that: save it smaller", picture.MaxBytes>>20))
	}
	return newShot(name, content)
}

func newShot(name string, content []byte) (*shot, error) {
	shot, err := decodeShot(name, content)
	if err != nil {
		return nil, badInput(name, err)
	}
	return shot, nil
}

// decodeShot is newShot with an error that does not name the photo.
func decodeShot(name string, content []byte) (*shot, error) {
	p, err := picture.Decode(content)
	if err != nil {
		return nil, err
	}
	taken, err := layers.ParseDate(p.Taken)
	if err != nil {
		taken = 0 // a camera whose clock was never set
	}
	return &shot{p, name, content, taken}, nil
}

// sum is the SHA-256 of the photo's file, in hexadecimal digits.
func (p *shot) sum() string {
	sum := sha256.Sum256(p.content)
	return hex.EncodeToString(sum[:])
}

// shotReading is what a photo shows, and the picks by which it was read.
type shotReading struct {
	*shot
	picks photo.Picks
	found *photo.Reading
	core  layers.Core // to be filed
	read  reports.PhotoCore
}

// read reads the layers in a photo for a core of which date and station are known.
func (p *shot) read(picks photo.Picks, core layers.Core, tank layers.Tank, own []palette.Prototype) (*shotReading, error) {
	found, err := photo.Read(p.Picture, picks, infer.NewMatcher(tank, own))
	if err != nil {
		return nil, p.unreadable(err)
	}
	return p.interpret(found, picks, core, tank, own), nil
}

// interpret says what a reading of the photo means for a core of which date and station
// are known.
func (p *shot) interpret(found *photo.Reading, picks photo.Picks, core layers.Core, tank layers.Tank, own []palette.Prototype) *shotReading {
	light := *found.Core.Photo
	light.SHA256 = p.sum()
	core.Layers, core.Photo = slices.Clone(found.Core.Layers), &light
	how := reports.Photo{
		PxPerMM: found.PxPerMM, RollDegrees: found.RollDegrees, GlareShare: found.GlareShare, Taken: p.taken, Warnings: found.Warnings,
		Correction: reports.Correction{
			Cards: found.Cards, Gain: found.Gain, ExposureEV: found.Light.EV, ExposureDoubt: found.Light.EVDoubt, Veil: found.Light.Veil,
		},
	}
	how.Warnings = append(slices.Clip(how.Warnings), p.profileWarning()...) // the reading may be used again
	settings := reports.DefaultSettings()
	return &shotReading{p, picks, found, core, judge.ReadPhotoCore(tank, core, own, how, settings)}
}

// profileWarning warns of colours that were not understood.
func (p *shot) profileWarning() []string {
	if p.Profile == "" {
		return nil
	}
	return []string{fmt.Sprintf("the photo's colours are those of the profile %q, which were taken for sRGB", p.Profile)}
}

// unreadable tells a photo that can't be read honestly from a failure.
func (p *shot) unreadable(err error) error {
	var refusal *photo.Refusal
	if errors.As(err, &refusal) {
		return &unreadableError{p.name + ": " + refusal.Error()}
	}
	return fmt.Errorf("%s: %w", p.name, err)
}

// An unreadableError is a photo that can't be read honestly.
type unreadableError struct{ reason string }

func (e *unreadableError) Error() string { return e.reason }

func (s *shell) printPhoto(r *shotReading, drawn outFile, next []string) error {
	if s.json {
		return writeJSON(s.out, r.read)
	}
	if drawn.path == "" {
		next = append([]string{"Check it: --overlay FILE.png draws the reading onto the photo."}, next...)
	}
	return s.printText(func(w io.Writer, o table.Options) error { return table.WritePhoto(w, r.name, r.read, next, o) })
}

// addOverlayFlag asks where the picture of a reading goes, beside what is printed.
func addOverlayFlag(flags *pflag.FlagSet, path *string) {
	flags.Func("overlay", "draw what was read onto the photo, as `FILE`, a PNG", parsed(path, parseOverlayName))
}

// parseFileName takes the name of a file, where standard output won't do.
func parseFileName(text string) (string, error) {
	if text == "" || text == "-" {
		return "", fmt.Errorf("found %q, want the name of a file", text)
	}
	return text, nil
}

// parseOverlayName takes the name of a PNG file.
func parseOverlayName(text string) (string, error) {
	if ending := filepath.Ext(text); ending != "" && !strings.EqualFold(ending, ".png") {
		return "", fmt.Errorf("found %q, want a file name that ends in .png", text)
	}
	return parseFileName(text)
}

// drawOverlay draws a reading onto its photo, if a file is named for it.
func (s *shell) drawOverlay(to outFile, r *shotReading) error {
	png, err := s.overlay(to, r)
	if err != nil {
		return err
	}
	return s.writeOverlay(to, png)
}

// overlay is the picture for a file that may be written; nil if none is named.
func (s *shell) overlay(to outFile, r *shotReading) ([]byte, error) {
	if to.path == "" {
		return nil, nil
	}
	if err := mayWrite(to.path, to.force); err != nil {
		return nil, err
	}
	var png bytes.Buffer
	err := overlay.Write(&png, s.drawing(r))
	return png.Bytes(), err
}

// drawing is what an overlay shows of a reading.
func (s *shell) drawing(r *shotReading) overlay.Drawing {
	return overlay.Drawing{Picture: r.Picture, Picks: r.picks, Reading: r.found, Core: r.read.Core, Units: s.units}
}

func (s *shell) writeOverlay(to outFile, png []byte) error {
	if to.path == "" {
		return nil
	}
	if err := writeFile(to.path, to.force, png); err != nil {
		return err
	}
	s.note("overlay drawn: " + to.path)
	return nil
}
