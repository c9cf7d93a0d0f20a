package forms

import (
	"embed"
	"net/http"
	"sync"

	"panecore/reports/web/site"
)

// Files are the room's templates and static files.
//
//go:embed templates static
var Files embed.FS

// Room is where a keeper types.
type Room struct {
	*site.Site
	showTank ShowTank
	amending sync.Mutex // held from looking at a record to writing over it
}

// ShowTank shows a tank's page with what was typed into its forms; nil: nothing was.
type ShowTank func(w http.ResponseWriter, r *http.Request, status int, water, event *Form) error

// New makes the room. Forms on a tank's page come back on that page.
func New(on *site.Site, showTank ShowTank) *Room { return &Room{Site: on, showTank: showTank} }

// Routes are the addresses of forms and of what they send.
func (s *Room) Routes() map[string]site.Handler {
	return map[string]site.Handler{
		"GET /tank/new":           s.newTank,
		"POST /tank/new":          s.addTank,
		"GET /tank/{id}/edit":     s.editTank,
		"POST /tank/{id}/edit":    s.amendTank,
		"GET /tank/{id}/rehearse": s.rehearse,

		"GET /tank/{id}/read":                          s.newCore,
		"POST /tank/{id}/read":                         s.addCore,
		"POST /tank/{id}/preview":                      s.preview,
		"GET /tank/{id}/core/{station}/{date}":         s.editCore,
		"POST /tank/{id}/core/{station}/{date}":        s.amendCore,
		"POST /tank/{id}/core/{station}/{date}/remove": s.removeCore,
		"POST /tank/{id}/core/{station}/{date}/mend":   s.mendCore,

		"POST /tank/{id}/water":        s.addWater,
		"POST /tank/{id}/water/remove": s.removeWater,
		"POST /tank/{id}/event":        s.addEvent,
		"POST /tank/{id}/event/remove": s.removeEvent,
	}
}
