package web

import (
	"errors"
	"fmt"
	"net/http"
	"time"

	"panecore/layers"
	"panecore/reports/figure/qr"
	"panecore/reports/web/site"
)

// Devices keeps which other devices may use the page. Several callers may use it at once.
type Devices interface {
	// Cookie is the name of the cookie that holds a device's key.
	Cookie() string
	// Seen reports whether a device of that key may use the page, and whether it was seen for the
	// first time today.
	Seen(key string) (known, anew bool)
	// Pair lets a device in by the key of a link, which is used up by that, and returns the key
	// that the device keeps. The error is one to show; it wraps site.ErrInput if the link is no
	// good. agent is what the browser calls itself.
	Pair(link, agent string) (key string, err error)
	// Link is the address that lets one device in, and until when; ok is false if there is none.
	Link() (address string, until time.Time, ok bool)
	// NewLink makes another link in its place.
	NewLink() error
	List() ([]Device, error)
	// Revoke shuts out the device of an id; the error is site.ErrMissing if there is none.
	Revoke(id string) (Device, error)
}

// Device is a device that may use the page.
type Device struct {
	ID, Name    string
	First, Last layers.Date // days on which it was seen
}

// devicesView is the page on which the keeper lets a phone in.
type devicesView struct {
	Link      *linkView // nil: none is good now
	Encrypted bool
	Devices   []Device
}

// linkView is a link as a code to scan.
type linkView struct {
	Address string
	Until   string // the time of day
	Side    int    // of the code with its margin, modules
	Path    string // of its dark modules
}

// deviceRoutes are where the one who runs the server lets devices in and shuts them out.
func (s *server) deviceRoutes() map[string]site.Handler {
	return map[string]site.Handler{
		"GET /devices":                  s.hosting(s.showDevices),
		"POST /devices/link":            s.hosting(s.newLink),
		"POST /devices/{device}/revoke": s.hosting(s.revoke),
	}
}

// hosting keeps a handler for those who sit at the machine that serves the page, so that a lost
// phone can't let in another.
func (s *server) hosting(handle site.Handler) site.Handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		if !site.CallerOf(r).Hosts {
			return site.WithKind(site.ErrMissing, errors.New("devices are let in and shut out only where panecore runs, and only while it runs with --lan"))
		}
		return handle(w, r)
	}
}

func (s *server) showDevices(w http.ResponseWriter, r *http.Request) error {
	v := devicesView{Encrypted: s.encrypted}
	var err error
	if v.Devices, err = s.devices.List(); err != nil {
		return err
	}
	if address, until, ok := s.devices.Link(); ok {
		code, err := qr.Encode(address)
		if err != nil {
			return err
		}
		v.Link = &linkView{address, until.Format("15:04"), code.Side(), code.Path()}
	}
	return s.Show(w, r, http.StatusOK, "devices", site.Frame{Title: "Open on your phone", Style: "devices.css"}, v)
}

func (s *server) newLink(w http.ResponseWriter, r *http.Request) error {
	if err := s.devices.NewLink(); err != nil {
		return err
	}
	http.Redirect(w, r, "/devices", http.StatusSeeOther)
	return nil
}

func (s *server) revoke(w http.ResponseWriter, r *http.Request) error {
	device, err := s.devices.Revoke(r.PathValue("device"))
	if err != nil {
		return err
	}
	site.Say(w, r, "/devices", fmt.Sprintf("Shut out: %s, paired on %s.", device.Name, device.First))
	return nil
}
