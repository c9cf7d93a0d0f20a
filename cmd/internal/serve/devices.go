package serve

import (
	"errors"
	"fmt"
	"time"

	"panecore/cmd/internal/devices"
	"panecore/cmd/internal/shell"
	"panecore/reports/web"
	"panecore/reports/web/site"
)

// pageDevices are the devices beside the logbook for the local page. What it lets in, shuts out
// and offers is told on the terminal too.
type pageDevices struct {
	*devices.Folder
	s    *shell.Shell
	at   string // where other devices reach the page, such as http://192.0.2.7:8080
	demo bool   // no command reaches the logbook
}

func (p pageDevices) Pair(link, agent string) (key string, err error) {
	key, device, err := p.Folder.Pair(link, agent)
	switch {
	case errors.Is(err, devices.ErrLink), errors.Is(err, devices.ErrFull):
		return "", site.WithKind(site.ErrInput, err)
	case err != nil:
		return "", err
	}
	note := fmt.Sprintf("paired: %s (%s); to shut it out or to pair another, choose “Open on your phone” on the page", device.Name, device.ID)
	if !p.demo {
		note += ", or use '" + p.s.Here("panecore device") + "'"
	}
	p.s.Note(note)
	return key, nil
}

func (p pageDevices) Link() (address string, until time.Time, ok bool) {
	link, ok := p.Folder.Link()
	return link.Address(p.at), link.Until, ok
}

func (p pageDevices) NewLink() error {
	link, err := p.Folder.NewLink()
	if err != nil {
		return err
	}
	address := link.Address(p.at)
	p.s.Note("a new link for one device: " + address) // who reads standard output has read the first one, and may read no more
	return devices.DrawCode(p.s, address)
}

func (p pageDevices) List() ([]web.Device, error) {
	list, err := p.Folder.List()
	shown := make([]web.Device, len(list))
	for i, device := range list {
		shown[i] = web.Device(device)
	}
	return shown, err
}

func (p pageDevices) Revoke(id string) (web.Device, error) {
	device, found, err := p.Folder.Revoke(id)
	switch {
	case err != nil:
		return web.Device{}, err
	case !found:
		return web.Device{}, site.WithKind(site.ErrMissing, errors.New("this device was shut out before"))
	}
	p.s.Note("shut out: " + device.Name + ", paired on " + device.First.String())
	return web.Device(device), nil
}
