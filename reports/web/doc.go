// Package web is the local page: the whole job in a browser on the keeper's own machine.
// It shows the findings and pictures of the other rooms and hands what a keeper enters to
// the store; it computes nothing and opens no file.
//
// Who may use it is guarded in guard.go: a caller must know the server's key, name the
// server by one of its own addresses, and, to change anything, come from its own pages.
package web
