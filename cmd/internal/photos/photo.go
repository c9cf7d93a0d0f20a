// Package photos reads photos of the glass: the commands for that, and what the page and the
// reports need from a photo, new or kept in the logbook.
package photos

import (
	"cmp"
	"io"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/records"
	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/photo"
	"panecore/layers/photo/tagged"
	"panecore/reports"
	"panecore/reports/table"
)

type photoOptions struct {
	file    string
	picks   photo.Picks
	native  []layers.Native
	tank    string      // empty: the reading is only printed
	station string      // empty: the tank's only one, else the usual
	date    layers.Date // zero: the day the photo was taken
	seen    records.Seen
	replace bool
	overlay shell.OutFile
}

// NewPhotoCommand reads a photo of the glass, and files it if a tank is named.
func NewPhotoCommand(s *shell.Shell) *cobra.Command {
	var o photoOptions
	var folder string
	cmd := &cobra.Command{
		Use:     "photo FILE...|-",
		GroupID: shell.GroupReadings,
		Short:   "Read the layers from a photo of the glass",
		Long: `Reads the layers in a strip of the pane: their edges, their colours in the light
that a grey card shows, and what they mean. --overlay draws what was read on the
photo: look at it before you believe it. 'panecore help photos' says how to take
a photo that can be read.

Ruler, grey card, a clear strip of the bed and the bed surface are found by
themselves; what was found is listed, with how sure it is. Mark what was found
wrong, or not at all: picks are pixels of the upright picture, as any picture
viewer shows them. JPEG, HEIC, PNG, WebP and TIFF are read. A photo that can't
be read honestly is refused with the reason and what would help (exit code 3).
Where the uppermost layers look like water above the bed, it asks at a terminal
whether they are, and elsewhere says with which --surface to read it again. In a
logbook the reading counts as doubtful until then, or until --sure.

With --json, "lines" under "photo" holds the edges in the picture: the bed
surface, then each layer's lower edge, as "pixels" from left to right and a
"confidence" from 0 to 1 that its mean depth is right to 1 mm.

With --tank the core is filed in the logbook and the photo is kept with it. The
tank gives the native colours and what you named in its other photos (counted
as "taught_by"), and the photo the day unless --date does. The same photo again
amends its core; layers that are the same keep the names you gave them. Without
--strip and --ruler the picks of the station's last photo are used, if there is
one.

A photo that shows a glass tag ('panecore sheet --tag') needs no marks: tank,
station, scale, roll, tilt and light are the tag's, and the core is filed. So
are several photos, or with --watch those of a folder as they arrive: a line for
each as it is filed, and a list of what was filed, doubtful or refused. One that
is refused stops none, but the exit code is 3. With --json the list is an array
of {"file", "outcome", "tank", "station", "date", "why", "core"}, where the
outcome is filed, known (the logbook had it), doubtful (filed) or refused.`,
		Example: `  panecore photo front.jpg --overlay check.png
  panecore photo front.jpg --strip 915,305,215,757 --surface 435 \
    --ruler 152,108,153,1003,90mm --neutral 1389,194,129,81,18% \
    --native '#d9cba6,sand' --overlay check.png
  panecore photo front.jpg --tank kettle --station front
  panecore photo *.jpg
  panecore photo --watch ~/Pictures/glass`,
		Args: func(cmd *cobra.Command, args []string) error {
			if folder != "" {
				return shell.NoArguments(cmd, args)
			}
			return shell.SomeArguments("FILE, a photo of the glass, or - for standard input")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case folder != "":
				return runPhotoWatch(cmd, s, o, folder)
			case len(args) > 1:
				return runPhotoMany(cmd, s, o, args)
			}
			o.file = args[0]
			return runPhotoOne(cmd, s, o)
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	addPickFlags(flags, &o.picks)
	addLaidFlag(flags, &o.native)
	AddOverlayFlag(flags, &o.overlay.Path)
	o.overlay.AddForceFlag(flags)
	s.AddTankFlag(cmd, &o.tank, "file the core in the logbook under `TANK`")
	flags.Func("station", "read at `STATION` (default: the tank's only one, else front)", shell.Parsed(&o.station, layers.ParseName))
	flags.Func("date", "read on `DATE`, YYYY-MM-DD (default: the day the photo was taken)", shell.Parsed(&o.date, layers.ParseDate))
	records.AddSeenFlags(cmd, &o.seen)
	flags.Func("watch", "file the photos of `DIR`, and those that arrive there, until Ctrl-C", shell.Parsed(&folder, shell.ParseFileName))
	flags.BoolVar(&o.replace, "replace", false, "replace a core that was not read from this photo")
	return cmd
}

// runPhotoOne files a photo under the tank that is named, by a flag or by a tag in it, or shows its reading.
func runPhotoOne(cmd *cobra.Command, s *shell.Shell, o photoOptions) error {
	if o.tank == "" && !looksForTag(cmd) {
		if err := mayOnlyShow(cmd); err != nil {
			return err
		}
	}
	shot, err := readShot(s, o.file)
	if err != nil {
		return err
	}
	var v sighted
	if looksForTag(cmd) {
		v.tag, v.miss = tagged.Find(shot.Picture)
	}
	if o.tank != "" || v.tag != nil {
		return runPhotoFile(cmd, s, o, shot, v)
	}
	return runPhoto(cmd, s, o, shot, v)
}

// mayOnlyShow refuses flags that are for a core of a tank.
func mayOnlyShow(cmd *cobra.Command) error {
	for _, flag := range []string{"station", "lit", "unlit", "sign", "note", "sure", "replace"} {
		if cmd.Flags().Changed(flag) {
			return shell.BadUsage(cmd, "found --%s without --tank, want both", flag)
		}
	}
	return nil
}

// runPhoto shows a reading that belongs to no tank.
func runPhoto(cmd *cobra.Command, s *shell.Shell, o photoOptions, shot *Shot, v sighted) error {
	if err := mayOnlyShow(cmd); err != nil {
		return err
	}
	r, err := readAlone(s, o, shot, v)
	if err != nil {
		return err
	}
	switch again, err := r.asksWater(s, &o.picks); {
	case err != nil:
		return err
	case again:
		if r, err = readAlone(s, o, shot, sighted{}); err != nil {
			return err
		}
	}
	if w := r.Findings.Photo.Water; w != nil {
		s.Note(waterDoubt(s.Units, *w))
	}
	if err := DrawOverlay(s, o.overlay, r); err != nil {
		return err
	}
	next := []string{"Keep it: --tank TANK and --station STATION file it in the logbook with the photo."}
	if len(o.native) == 0 {
		next = append(next, "Add the substrate's colour on set-up day with --native '#hex': it settles the light and the names.")
	}
	return PrintPhoto(s, r, o.overlay, next)
}

// readAlone reads a photo that belongs to no tank.
func readAlone(s *shell.Shell, o photoOptions, shot *Shot, v sighted) (*Reading, error) {
	marks := photo.Propose(shot.Picture, o.picks)
	if err := v.readable(shot, marks); err != nil {
		return nil, err
	}
	if v.part() {
		s.Note(v.miss.Refusal.Error())
	}
	r, err := shot.Read(marks.Picks, layers.Core{Date: cmp.Or(o.date, shot.Day)}, layers.Tank{Native: o.native}, nil)
	if err != nil {
		return nil, err
	}
	r.Findings.Photo.Found = foundIn(marks)
	return r, nil
}

// PrintPhoto prints a reading and what to do next; drawn is the file of its overlay.
func PrintPhoto(s *shell.Shell, r *Reading, drawn shell.OutFile, next []string) error {
	if drawn.Path == "" {
		next = append([]string{"Check it: --overlay FILE.png draws the reading on the photo."}, next...)
	}
	return shell.Print(s, r.Findings, func(w io.Writer, read reports.PhotoCore, o table.Options) error {
		return table.WritePhoto(w, r.name, read, next, o)
	})
}
