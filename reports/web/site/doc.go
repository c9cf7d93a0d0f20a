// Package site is what the rooms of the local page share: what they need from the store, how a
// page, a part of one or an error is written, the message that the next page shows, the
// addresses and fingerprints of records, and the question about a core before it is saved.
// It knows none of the rooms.
package site
