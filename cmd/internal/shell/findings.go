package shell

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/pflag"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/judge"
	"panecore/reports/table"
)

// The range of --draws: fewer make the intervals ragged, more only cost time.
const (
	minDraws = 100
	maxDraws = 1_000_000
)

// AddFindingsFlags adds the flags of every command that makes findings.
func AddFindingsFlags(flags *pflag.FlagSet, o *reports.Settings, asOf string) {
	AddDrawFlags(flags, o, asOf)
	flags.BoolVar(&o.History, "history", false, "list every core, not only the newest of each station")
}

// The day that tanks are judged as of without a flag: those of a document as of its newest record,
// those of the logbook as of today.
const (
	AsOfNewest = "each tank's newest record"
	AsOfToday  = "today"
)

// AddAsOfFlag adds the flag of every command that judges; asOf is the default in words.
func AddAsOfFlag(flags *pflag.FlagSet, o *reports.Settings, asOf string) {
	flags.Func("as-of", "judge as of `DATE`, YYYY-MM-DD: later records are left out (default: "+asOf+")", Parsed(&o.AsOf, layers.ParseDate))
}

// AddDrawFlags adds the flags of every command that draws.
func AddDrawFlags(flags *pflag.FlagSet, o *reports.Settings, asOf string) {
	o.Draws, o.Seed = reports.DefaultDraws, reports.DefaultSeed
	flags.SortFlags = false
	flags.Func("draws", fmt.Sprintf("make `N` random draws per tank (default %d)", reports.DefaultDraws), Parsed(&o.Draws, parseDraws))
	flags.Func("seed", fmt.Sprintf("seed the draws with `N`; the same seed gives the same findings (default %d)", reports.DefaultSeed), Parsed(&o.Seed, parseSeed))
	AddAsOfFlag(flags, o, asOf)
}

func parseDraws(s string) (int, error) {
	draws, err := strconv.Atoi(s)
	if err != nil || draws < minDraws || draws > maxDraws {
		return 0, fmt.Errorf("found %q, want a whole number from %d to %d", s, minDraws, maxDraws)
	}
	return draws, nil
}

func parseSeed(s string) (uint64, error) {
	seed, err := strconv.ParseUint(s, 10, 64)
	if err != nil {
		return 0, fmt.Errorf("found %q, want a whole number, 0 or more", s)
	}
	return seed, nil
}

// FindingsOf reads a logbook document and makes its findings. With an error they cover only a
// part of it.
func (s *Shell) FindingsOf(document io.Reader, today layers.Date, settings reports.Settings) (reports.Findings, error) {
	if !s.JSON {
		settings.Units = s.Units
	}
	decoder := layers.NewDecoder(document, today)
	findings := judge.Interpret(decoder.Tanks(), settings)
	return findings, decoder.Err()
}

// PrintFindings prints findings as JSON or as the terminal's report.
func (s *Shell) PrintFindings(findings reports.Findings) error {
	if s.JSON {
		return WriteFindingsJSON(s.Out, findings)
	}
	return Print(s, findings, table.Write)
}

// WriteFindingsJSON writes what WriteJSON would, tank by tank: the findings of a large logbook
// would otherwise be in memory three times.
func WriteFindingsJSON(w io.Writer, findings reports.Findings) error {
	if len(findings.Tanks) == 0 {
		return WriteJSON(w, reports.Findings{Format: findings.Format, Tanks: []reports.Tank{}})
	}
	if _, err := fmt.Fprintf(w, "{\n  \"format\": %q,\n  \"tanks\": [\n", findings.Format); err != nil {
		return err
	}
	var text bytes.Buffer
	encoder := newEncoder(&text)
	encoder.SetIndent("    ", "  ")
	for i, tank := range findings.Tanks {
		text.Reset()
		text.WriteString("    ")
		if err := encoder.Encode(tank); err != nil {
			return err
		}
		if i < len(findings.Tanks)-1 {
			text.Truncate(text.Len() - len("\n"))
			text.WriteString(",\n")
		}
		if _, err := w.Write(text.Bytes()); err != nil {
			return err
		}
	}
	_, err := io.WriteString(w, "  ]\n}\n")
	return err
}

// WriteJSON writes a value as the program writes all JSON: indented by two spaces, without
// escapes for HTML, with a newline at the end.
func WriteJSON(w io.Writer, value any) error { return newEncoder(w).Encode(value) }

func newEncoder(w io.Writer) *json.Encoder {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder
}
