package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/judge"
)

// runReportAll writes a file a tank into a folder; where one of them may not be written,
// none is.
func runReportAll(ctx context.Context, s *shell, o reportOptions) error {
	if !o.out.named() {
		return badInput("--all", errors.New("found no folder, want --out DIR"))
	}
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		if err := s.settle(ctx, book, &o.settings, o.format == "json"); err != nil {
			return err
		}
		tanks, err := book.List(ctx, false)
		if err != nil {
			return err
		}
		if err := makeFolder(o.out.path); err != nil {
			return err
		}
		files := o.filesOf(tanks)
		for _, tank := range tanks {
			if err := mayWrite(files[tank.ID], o.out.force); err != nil {
				return err
			}
		}
		if o.format == "html" {
			err = s.writePages(ctx, book, files, tanks, o)
		} else {
			err = s.writeFindings(ctx, book, files, o)
		}
		if err != nil {
			return err
		}
		s.note(fmt.Sprintf("wrote %d reports to %s", len(tanks), o.out.path))
		return nil
	})
}

// filesOf is where the report of each tank goes, by its id. Names that a system would take for
// the same are numbered.
func (o reportOptions) filesOf(tanks []logbook.TankEntry) map[string]string {
	files, taken := make(map[string]string, len(tanks)), make(map[string]bool, len(tanks))
	for _, tank := range tanks {
		name := fileName(tank.ID)
		for n := 2; taken[strings.ToLower(name)]; n++ {
			name = fmt.Sprintf("%s-%d", fileName(tank.ID), n)
		}
		taken[strings.ToLower(name)] = true
		files[tank.ID] = filepath.Join(o.out.path, name+reportEndings[o.format])
	}
	return files
}

// writeFindings judges several tanks at once.
func (s *shell) writeFindings(ctx context.Context, book *logbook.Book, files map[string]string, o reportOptions) error {
	tanks, failed := whole(book.Tanks(ctx, false))
	findings := judge.Interpret(tanks, o.settings)
	if err := failed(); err != nil {
		return err
	}
	for _, tank := range findings.Tanks {
		text, err := s.encodeReport(o.format, reports.Findings{Format: findings.Format, Tanks: []reports.Tank{tank}})
		if err != nil {
			return err
		}
		if err := writeFile(files[tank.ID], o.out.force, text); err != nil {
			return err
		}
	}
	return nil
}

// writePages makes a page after the other: each has its photos in memory.
func (s *shell) writePages(ctx context.Context, book *logbook.Book, files map[string]string, tanks []logbook.TankEntry, o reportOptions) error {
	for _, entry := range tanks {
		tank, err := book.Tank(ctx, entry.ID)
		if err != nil {
			return err
		}
		page, err := s.page(ctx, book, tank, o.settings, "")
		if err != nil {
			return err
		}
		if err := writeFile(files[tank.ID], o.out.force, page); err != nil {
			return err
		}
	}
	return nil
}
