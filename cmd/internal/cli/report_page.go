package cli

import (
	"bytes"
	"context"

	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/judge"
	"panecore/reports/page"
)

// page makes the page of a tank of the logbook, with the photos that are kept.
func (s *shell) page(ctx context.Context, book *logbook.Book, tank layers.Tank, settings reports.Settings, notice string) ([]byte, error) {
	record := judge.NewRecord(tank, settings)
	photos, err := s.pagePhotos(ctx, book, tank, record.Tank.Cores, settings.Own(tank.ID))
	if err != nil {
		return nil, err
	}
	return s.encodePage(record, photos, notice)
}

func (s *shell) encodePage(record reports.Record, photos []page.Photo, notice string) ([]byte, error) {
	var b bytes.Buffer
	err := page.Write(&b, page.Report{Record: record, Photos: photos, Units: s.units, Notice: notice, Version: version()})
	return b.Bytes(), err
}
