package forms

import (
	"embed"
	"net/http"

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
}

// ShowTank shows a tank's page with what was typed into its forms; nil: nothing was.
type ShowTank func(w http.ResponseWriter, r *http.Request, status int, water, event *Form) error

// New makes the room. Forms on a tank's page come back on that page.
func New(on *site.Site, showTank ShowTank) *Room { return &Room{Site: on, showTank: showTank} }

// Routes are the addresses of forms and of what they send.
func (s *Room) Routes() map[string]site.Handler {
	return map[string]site.Handler{
		"GET /tank/new":           s.newTank,
		"POST /tank/new":          s.Changing(s.addTank),
		"GET /tank/{id}/edit":     s.editTank,
		"POST /tank/{id}/edit":    s.Changing(s.amendTank),
		"GET /tank/{id}/rehearse": s.rehearse,

		"GET /tank/{id}/read":                          s.newCore,
		"POST /tank/{id}/read":                         s.Changing(s.addCore),
		"POST /tank/{id}/preview":                      s.preview,
		"GET /tank/{id}/core/{station}/{date}":         s.editCore,
		"POST /tank/{id}/core/{station}/{date}":        s.Changing(s.amendCore),
		"POST /tank/{id}/core/{station}/{date}/remove": s.Changing(s.removeCore),
		"POST /tank/{id}/core/{station}/{date}/mend":   s.Changing(s.mendCore),

		"POST /tank/{id}/water":        s.Changing(s.addWater),
		"POST /tank/{id}/water/remove": s.Changing(s.removeWater),
		"POST /tank/{id}/event":        s.Changing(s.addEvent),
		"POST /tank/{id}/event/remove": s.Changing(s.removeEvent),
	}
}
