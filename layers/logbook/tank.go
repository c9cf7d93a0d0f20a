package logbook

import (
	"context"
	"time"

	"panecore/layers"
)

// AddTank adds a tank with all that it holds.
func (b *Book) AddTank(ctx context.Context, at time.Time, tank layers.Tank) error {
	return b.change(ctx, at, func(c *change) error {
		checked, err := check(c.today, tank)
		if err != nil {
			return err
		}
		former, err := c.find(setups.table, tank.ID, nil)
		if err != nil {
			return err
		}
		if former != nil {
			return &TakenError{nameOf(tank.ID)}
		}
		m := merge{change: c}
		if err := m.tank(checked[0]); err != nil {
			return err
		}
		c.what = nameOf(tank.ID) + " added"
		return m.refusal()
	})
}

// EditTank replaces what is known of a tank besides its cores, water tests and
// events: those of the argument are not looked at.
func (b *Book) EditTank(ctx context.Context, at time.Time, tank layers.Tank) error {
	return b.change(ctx, at, func(c *change) error {
		_, retired, err := c.setup(tank.ID)
		if err != nil {
			return err
		}
		tank.Cores, tank.Water, tank.Events = nil, nil, nil
		checked, err := check(c.today, tank)
		if err != nil {
			return err
		}
		if err := c.amend(setups.table, tank.ID, nil, setups.row(checked[0], layers.OneIf(retired))); err != nil {
			return err
		}
		return c.checkSetUp(checked[0])
	})
}

// checkSetUp sees to it that no core is older than its tank.
func (c *change) checkSetUp(tank layers.Tank) error {
	oldest, err := list(c.reader, text, "SELECT min(date) FROM cores WHERE tank = ? AND until IS NULL HAVING min(date) < ?", tank.ID, tank.SetUp.String())
	if err != nil || len(oldest) == 0 {
		return err
	}
	return layers.Faults{{Where: nameOf(tank.ID) + ", set_up", Found: tank.SetUp.String(), Want: oldest[0] + " (its oldest core) or earlier"}}
}

// SetRetired marks a tank as no longer kept, or takes it up again; nothing of it is lost.
// Where it is so already nothing changes.
func (b *Book) SetRetired(ctx context.Context, at time.Time, id string, retired bool) error {
	what := "taken up again"
	if retired {
		what = "retired"
	}
	return b.change(ctx, at, func(c *change) error {
		tank, was, err := c.setup(id)
		if err != nil || was == retired {
			return err
		}
		if err := c.amend(setups.table, id, nil, setups.row(tank, layers.OneIf(retired))); err != nil {
			return err
		}
		c.what = nameOf(id) + " " + what
		return nil
	})
}
