package layers

import "slices"

// Flows lists the kinds of flow.
func Flows() []Flow { return slices.Clone(flows) }

// Kinds lists the kinds of native substrate.
func Kinds() []Kind { return slices.Clone(kinds) }

// EventKinds lists the kinds of event.
func EventKinds() []EventKind { return slices.Clone(events) }
