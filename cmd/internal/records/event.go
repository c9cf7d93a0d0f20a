package records

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports/table"
)

// wantEvent is what a command that works on one event asks for.
const wantEvent = "a tank's id and what happened"

// NewEventCommand enters, lists and removes events.
func NewEventCommand(s *shell.Shell) *cobra.Command {
	return group(&cobra.Command{
		Use:     "event",
		GroupID: shell.GroupBook,
		Short:   "Enter what was done to a tank or happened to it",
		Long: `Growth is counted between removals, so enter every stir, siphon and top-up.

` + kindsOfEvent(),
		Example: `  panecore event add kettle siphon --share 25% --depth 20mm --note 'left half'
  panecore event list kettle`,
	}, newEventAddCommand(s), newListCommand(s, "event", "events", "date", func(t *layers.Tank) *[]layers.Event { return &t.Events }, table.WriteEvents), newEventRemoveCommand(s))
}

func kindsOfEvent() string {
	const margin = "\n  "
	list := ansi.Wordwrap(shell.Join(layers.EventKinds(), ", "), 70, "")
	return "The kinds of event:" + margin + strings.ReplaceAll(list, "\n", margin)
}

func newEventAddCommand(s *shell.Shell) *cobra.Command {
	var event layers.Event
	cmd := &cobra.Command{
		Use:   "add TANK KIND",
		Short: "Add an event",
		Long:  kindsOfEvent(),
		Example: `  panecore event add kettle siphon --share 25% --depth 20mm --note 'left half'
  panecore event add kettle dead-animal --date 2026-09-02`,
		Args:              shell.TwoArguments(wantEvent),
		ValidArgsFunction: completeEvents(s),
		RunE: func(cmd *cobra.Command, args []string) error {
			event.Kind = layers.EventKind(args[1])
			event.Date = s.DateOr(event.Date)
			ctx := cmd.Context()
			return s.InBook(ctx, false, func(book *logbook.Book) error { return addEvent(ctx, s, book, args[0], event) })
		},
	}
	shell.FieldFlags(cmd, &event, layers.EventFields(), "today")
	return cmd
}

func addEvent(ctx context.Context, s *shell.Shell, book *logbook.Book, tank string, event layers.Event) error {
	if err := book.AddEvent(ctx, s.Env.Now(), tank, event); err != nil {
		return err
	}
	s.Done("%s of tank %q added", eventName(event), tank)
	return nil
}

func eventName(event layers.Event) string { return fmt.Sprintf("event %s %s", event.Kind, event.Date) }

// completeEvents completes a tank's id and the kind of an event.
func completeEvents(s *shell.Shell) cobra.CompletionFunc {
	return func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 1 {
			return layers.Texts(layers.EventKinds()), cobra.ShellCompDirectiveNoFileComp
		}
		return s.CompleteTanks(cmd, args, typed)
	}
}

func newEventRemoveCommand(s *shell.Shell) *cobra.Command {
	var event layers.Event
	var yes bool
	cmd := &cobra.Command{
		Use:   "remove TANK KIND --date DATE",
		Short: "Remove an event",
		Long: `Removes the event of a kind and date. Where there are several, --share, --depth
and --note tell which.`,
		Example: `  panecore event remove kettle siphon --date 2026-09-02
  panecore event remove kettle siphon --date 2026-09-02 --share 25% --yes`,
		Args:              shell.TwoArguments(wantEvent),
		ValidArgsFunction: completeEvents(s),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := shell.RequireFlags(cmd, "date"); err != nil {
				return err
			}
			event.Kind = layers.EventKind(args[1])
			name := fmt.Sprintf("%s of tank %q", eventName(event), args[0])
			return s.Remove(cmd, name, yes, func(book *logbook.Book) error {
				return removeEvent(cmd, s, book, args[0], event)
			})
		},
	}
	shell.FieldFlags(cmd, &event, layers.EventFields(), "")
	shell.AddYesFlag(cmd.Flags(), &yes)
	return cmd
}

// removeEvent removes the one event that is like the one sought in all that the
// flags say of it.
func removeEvent(cmd *cobra.Command, s *shell.Shell, book *logbook.Book, id string, sought layers.Event) error {
	tank, err := book.Tank(cmd.Context(), id)
	if err != nil {
		return err
	}
	found := slices.DeleteFunc(tank.Events, func(e layers.Event) bool { return !isLike(e, sought, cmd.Flags().Changed) })
	switch len(found) {
	case 0:
		return &logbook.NotFoundError{What: fmt.Sprintf("such %s of tank %q", eventName(sought), id)}
	case 1:
		return book.RemoveEvent(cmd.Context(), s.Env.Now(), id, found[0])
	}
	return shell.BadUsage(cmd, "found %d of %s in tank %q, want %s to tell which", len(found), eventName(sought), id, shell.FlagsOf(layers.EventFields()))
}

func isLike(e, sought layers.Event, said func(flag string) bool) bool {
	return !slices.ContainsFunc(layers.EventFields(), func(f layers.Field[layers.Event]) bool {
		return (f.Needed || said(f.Flag)) && f.Plain(&e) != f.Plain(&sought)
	})
}
