package demo

import (
	"bytes"
	"fmt"
	"path/filepath"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/figure/pen"
	"panecore/reports/figure/timeline"
	"panecore/reports/judge"
	"panecore/reports/page"
	"panecore/reports/words"
)

// runFolder writes every picture and page of the demo's records into a folder. If one of the files
// may not be written, none is.
func runFolder(s *shell.Shell, o options) error {
	o.settings.Units = s.Units
	records, err := allRecords(o.settings)
	if err != nil {
		return err
	}
	all := collection{Shell: s}
	all.everything(records)
	if all.err != nil {
		return all.err
	}
	if err := all.write(o.folder, o.force); err != nil {
		return err
	}
	s.Note("invented records: no such tanks, no such keeper")
	for _, text := range all.lacking {
		s.Note(text)
	}
	return all.list(o.folder)
}

// allRecords are the reports' records of the demo's vessels.
func allRecords(settings reports.Settings) ([]reports.Record, error) {
	tanks, err := layers.Decode(bytes.NewReader(document), farDay)
	records := make([]reports.Record, len(tanks))
	for i, tank := range tanks {
		records[i] = judge.NewRecord(tank, settings)
	}
	return records, err
}

// collection is a folder of pictures and pages, first made and then written.
type collection struct {
	*shell.Shell
	files   []file
	entries []entry  // what the list says of them
	first   string   // the page to open
	lacking []string // what is missing, and why
	err     error    // the first
}

type file struct {
	name    string
	content []byte
}

// entry is a page or a picture in the list of what was written.
type entry struct{ name, about string }

// everything adds all pictures and pages.
func (e *collection) everything(records []reports.Record) {
	overview := overviewOf(records)
	e.draw("overview", figure.Overview(overview, e.Units), shell.SVG, shell.PNG)
	e.add("sheet.html", e.EncodeSheet)
	e.entries = append(e.entries,
		entry{"overview.svg", "every vessel, the most pressing first; also as .png"},
		entry{"sheet.html", "a blank sheet to fill in at the glass"})
	for _, record := range records {
		e.tank(record)
	}
}

// overviewOf judges the vessels on the day of the newest reading, to be the same on any day.
func overviewOf(records []reports.Record) reports.Overview {
	findings := reports.Findings{Format: reports.FindingsFormat}
	var today layers.Date
	for _, record := range records {
		findings.Tanks = append(findings.Tanks, record.Tank)
		today = max(today, record.Tank.AsOf)
	}
	return judge.NewOverview(findings, today)
}

// tank makes the page and the pictures of one vessel.
func (e *collection) tank(r reports.Record) {
	name := shell.FileName(r.Tank.ID)
	e.add(name+".html", func() ([]byte, error) {
		return e.EncodePage(page.Report{Record: r, Notice: "Invented records: no such tank, no such keeper."})
	})
	e.draw(name+"-timeline", timeline.Figure(r.Timeline, timeline.Options{Units: e.Units}), shell.SVG, shell.PNG, shell.PDF)
	beside := "with -timeline"
	show := func(of string, f *pen.Figure) {
		beside += ", -" + of
		e.draw(name+"-"+of, f, shell.SVG, shell.PNG)
	}
	if r.Oxygen != nil {
		show("oxygen", figure.Oxygen(*r.Oxygen, e.Units))
	}
	if rehearsal := advised(r); rehearsal != nil {
		show("rehearsal", figure.Rehearsal(*rehearsal, e.Units))
	}
	if r.Lacking != "" {
		e.lacking = append(e.lacking, fmt.Sprintf("%s: left out oxygen or rehearsal: %s", r.Tank.ID, r.Lacking))
	}
	for _, core := range r.Tank.Cores {
		show(shell.FileName(core.Station), figure.Core(core, figure.CoreOptions{
			Tank: words.TankName(r.Tank.ID, r.Tank.Name), Units: e.Units, Penetration: r.Tank.Penetration,
		}))
	}
	e.entries = append(e.entries, entry{name + ".html", beside})
	if e.first == "" {
		e.first = name + ".html"
	}
}

// advised is the rehearsal of the advice, or of siphoning if that is to leave the bed; nil: there
// is none.
func advised(r reports.Record) *reports.Rehearsal {
	method := reports.MethodSiphon
	if r.Tank.Advice != nil && r.Tank.Advice.Action == reports.Stir {
		method = reports.MethodStir
	}
	for i := range r.Rehearsals {
		if r.Rehearsals[i].Method == method {
			return &r.Rehearsals[i]
		}
	}
	return nil
}

// draw adds a picture, one file for each kind.
func (e *collection) draw(name string, f *pen.Figure, kinds ...shell.PictureKind) {
	for _, kind := range kinds {
		e.add(name+string(kind), func() ([]byte, error) { return shell.EncodePicture(f, kind) })
	}
}

func (e *collection) add(name string, encode func() ([]byte, error)) {
	if e.err != nil {
		return
	}
	var content []byte
	content, e.err = encode()
	e.files = append(e.files, file{name, content})
}

// write writes the files into a folder, which it creates if it is missing.
func (e *collection) write(folder string, force bool) error {
	if err := shell.MakeFolder(folder); err != nil {
		return err
	}
	for _, f := range e.files {
		if err := shell.MayWrite(filepath.Join(folder, f.name), force); err != nil {
			return err
		}
	}
	for _, f := range e.files {
		if err := shell.WriteFile(filepath.Join(folder, f.name), force, f.content); err != nil {
			return err
		}
	}
	return nil
}

// list prints what was written and where to begin.
func (e *collection) list(folder string) error {
	width := 0
	for _, r := range e.entries {
		width = max(width, len(r.name))
	}
	fmt.Fprintf(e.Out, "%d files in %s:\n", len(e.files), folder)
	for _, r := range e.entries {
		fmt.Fprintf(e.Out, "  %-*s  %s\n", width, r.name, r.about)
	}
	_, err := fmt.Fprintf(e.Out, "Pictures are .svg and .png, timelines also .pdf.\nOpen %s in a browser.\n", filepath.Join(folder, e.first))
	return err
}
