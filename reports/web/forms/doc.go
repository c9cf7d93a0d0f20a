// Package forms is where a keeper types: tanks, cores, water tests and events, the answers to
// questions about a core, and what is to be rehearsed. A form that can't be kept comes back
// with all that was typed and with its complaints, which say what is wrong with it and where.
package forms
