package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"panecore/cmd/internal/photos"
	"panecore/cmd/internal/shell"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/judge"
)

// runReportAll writes a file per tank into a folder. If one of them may not be written, none is.
func runReportAll(ctx context.Context, s *shell.Shell, o reportOptions) error {
	if !o.out.Named() {
		return shell.BadInput("--all", errors.New("found no folder, want --out DIR"))
	}
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		if err := s.Settle(ctx, book, &o.settings, o.format == "json"); err != nil {
			return err
		}
		tanks, err := book.List(ctx, false)
		if err != nil {
			return err
		}
		if err := shell.MakeFolder(o.out.Path); err != nil {
			return err
		}
		files := o.filesOf(tanks)
		for _, tank := range tanks {
			if err := shell.MayWrite(files[tank.ID], o.out.Force); err != nil {
				return err
			}
		}
		if o.format == "html" {
			err = writePages(ctx, s, book, files, tanks, o)
		} else {
			err = writeFindings(ctx, s, book, files, o)
		}
		if err != nil {
			return err
		}
		s.Note(fmt.Sprintf("wrote %d reports to %s", len(tanks), o.out.Path))
		return nil
	})
}

// filesOf is the file of each tank's report, by the tank's id. Names that differ only in capital
// letters get numbers: some systems take them for the same.
func (o reportOptions) filesOf(tanks []logbook.TankEntry) map[string]string {
	files, taken := make(map[string]string, len(tanks)), make(map[string]bool, len(tanks))
	for _, tank := range tanks {
		name := shell.FileName(tank.ID)
		for n := 2; taken[strings.ToLower(name)]; n++ {
			name = fmt.Sprintf("%s-%d", shell.FileName(tank.ID), n)
		}
		taken[strings.ToLower(name)] = true
		files[tank.ID] = filepath.Join(o.out.Path, name+reportEndings[o.format])
	}
	return files
}

// writeFindings writes all formats except html, and judges several tanks at once.
func writeFindings(ctx context.Context, s *shell.Shell, book *logbook.Book, files map[string]string, o reportOptions) error {
	tanks, failed := shell.Whole(book.Tanks(ctx, false))
	findings := judge.Interpret(tanks, o.settings)
	if err := failed(); err != nil {
		return err
	}
	for _, tank := range findings.Tanks {
		text, err := encodeReport(s, o.format, reports.Findings{Format: findings.Format, Tanks: []reports.Tank{tank}})
		if err != nil {
			return err
		}
		if err := shell.WriteFile(files[tank.ID], o.out.Force, text); err != nil {
			return err
		}
	}
	return nil
}

// writePages makes one page at a time: each has its photos in memory.
func writePages(ctx context.Context, s *shell.Shell, book *logbook.Book, files map[string]string, tanks []logbook.TankEntry, o reportOptions) error {
	for _, entry := range tanks {
		tank, err := book.Tank(ctx, entry.ID)
		if err != nil {
			return err
		}
		page, err := photos.Page(ctx, s, book, tank, o.settings, "")
		if err != nil {
			return err
		}
		if err := shell.WriteFile(files[tank.ID], o.out.Force, page); err != nil {
			return err
		}
	}
	return nil
}
