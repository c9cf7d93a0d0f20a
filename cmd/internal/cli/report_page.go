package cli

import (
	"context"

	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports"
)

// page makes the page of a tank of the logbook, with the photos that are kept.
func (s *shell) page(ctx context.Context, book *logbook.Book, tank layers.Tank, settings reports.Settings, notice string) ([]byte, error) {
	record := reports.NewRecord(tank, settings)
	photos, err := s.pagePhotos(ctx, book, tank, record.Tank.Cores, settings.Own(tank.ID))
	if err != nil {
		return nil, err
	}
	return s.encodePage(record, photos, notice)
}
