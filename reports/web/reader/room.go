package reader

import (
	"embed"

	"panecore/reports/web/site"
)

// Files are the room's templates and static files.
//
//go:embed templates static
var Files embed.FS

// room is where photos are read.
type room struct {
	*site.Site
	photos Reader
	drafts *drafts
}

// Routes are the addresses at which a photo is sent, marked, read and saved.
func Routes(on *site.Site, photos Reader) map[string]site.Handler {
	s := &room{on, photos, newDrafts()}
	return map[string]site.Handler{
		"GET /photo":                    s.start,
		"POST /photo":                   s.take,
		"GET /photo/{draft}":            s.reader,
		"GET /photo/{draft}/screen.jpg": s.screen,
		"GET /photo/{draft}/state":      s.state,
		"POST /photo/{draft}/read":      s.read,
		"POST /photo/{draft}/save":      s.save,
		"POST /photo/{draft}/drop":      s.drop,
	}
}
