package devices

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers/logbook"
	"panecore/reports/figure/qr"
	"panecore/reports/table"
)

// folderKind is the ending of the folder beside the logbook.
const folderKind = "devices"

// Beside is the folder beside a logbook.
func Beside(s *shell.Shell, book *logbook.Book) *Folder {
	return In(book.Beside(folderKind), s.Env.Now)
}

// NewCommand lists the paired devices, lets one in and shuts one out.
func NewCommand(s *shell.Shell) *cobra.Command {
	cmd := &cobra.Command{
		Use:     "device",
		GroupID: shell.GroupProgram,
		Short:   "Pair a phone with the page, list paired devices, shut one out",
		Long: `Other devices reach the page while 'panecore serve --lan' runs. Each is paired
once: it opens a link that is good for one device and ten minutes, and gets a
key of its own, which it keeps. Only the SHA-256 of the key is stored, beside
the logbook.`,
		Example: `  panecore device list
  panecore device add
  panecore device revoke 1f0c22ab`,
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(newListCommand(s), newAddCommand(s), newRevokeCommand(s))
	return cmd
}

// inFolder calls use with the devices of the logbook.
func inFolder(cmd *cobra.Command, s *shell.Shell, use func(*Folder) error) error {
	return s.InBook(cmd.Context(), false, func(book *logbook.Book) error { return use(Beside(s, book)) })
}

func newListCommand(s *shell.Shell) *cobra.Command {
	return &cobra.Command{
		Use:   "list",
		Short: "List the paired devices",
		Long: `Lists the devices that may use the page, the one seen last first: the id to
revoke it by, what its browser calls itself, and the days it was first and last
seen.`,
		Example: `  panecore device list
  panecore device list --json`,
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return inFolder(cmd, s, func(f *Folder) error {
				list, err := f.List()
				if err != nil {
					return err
				}
				return printList(s, list)
			})
		},
	}
}

// deviceList is the JSON form of the paired devices.
type deviceList struct {
	Format  string       `json:"format"`
	Devices []deviceJSON `json:"devices"`
}

type deviceJSON struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	First string `json:"first_seen"`
	Last  string `json:"last_seen"`
}

func printList(s *shell.Shell, list []Device) error {
	if s.JSON {
		shown := deviceList{"panecore-devices/1", []deviceJSON{}}
		for _, d := range list {
			shown.Devices = append(shown.Devices, deviceJSON{d.ID, d.Name, d.First.String(), d.Last.String()})
		}
		return shell.WriteJSON(s.Out, shown)
	}
	if len(list) == 0 {
		_, err := fmt.Fprintln(s.Out, "no paired devices")
		return err
	}
	for _, d := range list {
		if _, err := fmt.Fprintf(s.Out, "%s  %s: paired %s, last seen %s\n", d.ID, d.Name, d.First, d.Last); err != nil {
			return err
		}
	}
	return nil
}

func newAddCommand(s *shell.Shell) *cobra.Command {
	return &cobra.Command{
		Use:   "add",
		Short: "Print a link that pairs one device",
		Long: `Prints a link, and on a terminal a code to scan, that pairs one device with the
page that 'panecore serve --lan' serves now. A link that was printed before is
no longer good.`,
		Example: `  panecore device add`,
		Args:    shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if s.JSON {
				return shell.BadUsage(cmd, "found --json, which has no effect on a link")
			}
			return inFolder(cmd, s, func(f *Folder) error {
				address := f.Serving()
				if address == "" {
					return shell.BadUsage(cmd, "found no page that is open to the network, want 'panecore serve --lan' to run")
				}
				link, err := f.NewLink()
				if err != nil {
					return err
				}
				if err := Print(s.Out, link.Address(address)); err != nil {
					return err
				}
				return DrawCode(s, link.Address(address))
			})
		},
	}
}

// Address is what a device opens to be let in by a link.
func (l Link) Address(at string) string { return at + "/?key=" + l.Key }

// Print prints an address to a stream.
func Print(stream io.Writer, address string) error {
	if _, err := fmt.Fprintln(stream, address); err != nil {
		return fmt.Errorf("standard output: %w", err)
	}
	return nil
}

// DrawCode draws an address as a code to scan on standard error, if that is a terminal which can
// show it.
func DrawCode(s *shell.Shell, address string) error {
	code, err := qr.Encode(address)
	if err != nil || !s.Env.StderrIsTerminal {
		return err
	}
	return s.DrawOn(s.Env.Stderr, func(w io.Writer, o table.Options) error {
		if o.ASCII || o.Width < code.Side() {
			return nil
		}
		_, err := io.WriteString(w, code.Blocks())
		return err
	})
}

func newRevokeCommand(s *shell.Shell) *cobra.Command {
	return &cobra.Command{
		Use:     "revoke DEVICE",
		Short:   "Shut a device out",
		Long:    `Shuts out the device of an id, as 'panecore device list' shows it, at once.`,
		Example: `  panecore device revoke 1f0c22ab`,
		Args:    shell.OneArgument("a device's id"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return inFolder(cmd, s, func(f *Folder) error {
				device, found, err := f.Revoke(args[0])
				switch {
				case err != nil:
					return err
				case !found:
					return shell.BadUsage(cmd, "found no paired device %q, want an id that 'panecore device list' shows", args[0])
				}
				s.Note(device.Name + " (" + device.ID + ") is shut out")
				return nil
			})
		},
	}
}
