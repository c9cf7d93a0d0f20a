package words

import "panecore/reports"

// Lacking says why a record has no oxygen profile or not every rehearsal; empty: nothing is missing.
// The tank's notices say which need is unmet.
func Lacking(r reports.Record) string {
	switch {
	case r.Lacking == "":
		return ""
	case len(r.Tank.Cores) == 0:
		return "Not worked out: no core has been read."
	case r.Oxygen == nil:
		return "Not worked out: it needs the vessel's measurements and a water temperature from the last 90 days. The notices say what is missing."
	case len(r.Rehearsals) == 0:
		return "Not worked out: it would reach deeper than the bed was read."
	}
	return "One is not worked out: it would reach deeper than the bed was read."
}
