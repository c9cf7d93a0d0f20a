package logbook

import (
	"context"
	"time"

	"panecore/layers"
)

// AddWater adds a water test to a tank that has none of its date and time.
func (b *Book) AddWater(ctx context.Context, at time.Time, tank string, test layers.WaterTest) error {
	return addRecord(ctx, b, at, waterTests, tank, test)
}

// RemoveWater removes the water test of a date and time; the time is empty for a
// test without one.
func (b *Book) RemoveWater(ctx context.Context, at time.Time, tank string, date layers.Date, clock string) error {
	return b.change(ctx, at, func(c *change) error {
		return c.remove(waterTests.table, tank, []any{date.String(), clock})
	})
}

// AddEvent adds an event to a tank that has none wholly equal.
func (b *Book) AddEvent(ctx context.Context, at time.Time, tank string, event layers.Event) error {
	return addRecord(ctx, b, at, events, tank, event)
}

// RemoveEvent removes the event that equals the one given.
func (b *Book) RemoveEvent(ctx context.Context, at time.Time, tank string, event layers.Event) error {
	return b.change(ctx, at, func(c *change) error {
		return c.remove(events.table, tank, events.row(event))
	})
}
