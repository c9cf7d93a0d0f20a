package words

import "panecore/reports"

// Lacking says why a record has no oxygen profile or fewer rehearsals than it could have;
// empty where nothing is missing. Which of several needs is unmet stands in the tank's
// notices.
func Lacking(r reports.Record) string {
	switch {
	case r.Lacking == "":
		return ""
	case len(r.Tank.Cores) == 0:
		return "Not worked out: it needs a core that has been read."
	case r.Oxygen == nil:
		return "Not worked out: it needs the vessel's measures and a water temperature of the last 90 days. The notices say what is missing."
	case len(r.Rehearsals) == 0:
		return "Not worked out: a hand would reach below the bed that was read."
	}
	return "One is not worked out: the hand would reach below the bed that was read."
}
