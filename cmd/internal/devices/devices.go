// Package devices keeps which other devices may use the local page, in a folder beside the
// logbook. A device shows a key that never changes and of which only the SHA-256 is kept; it gets
// the key by a link that is good once, for a few minutes.
//
// Each device is one file, which is never written to again, so that several programs may let in
// and shut out at once: the file is gone, and so is the device. When it was last seen is the time
// of the file.
package devices

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"panecore/cmd/internal/shell"
	"panecore/layers"
)

const (
	linkTime    = 10 * time.Minute // that a link is good for (assumption: long enough to fetch the phone)
	mostDevices = 32               // that may be paired at once (assumption: all in a household)
	shortID     = 8                // digits of a device's SHA-256 that tell it from the others
	suffix      = ".json"
)

// The files beside those of the devices.
const (
	linkFile    = "link"    // the link that is good now
	servingFile = "serving" // where the page is served
)

// Folder is where devices are kept.
type Folder struct {
	path string
	now  func() time.Time
}

// In is the folder at a path, which need not be there yet.
func In(path string, now func() time.Time) *Folder { return &Folder{path, now} }

// Device is a device that may use the page.
type Device struct {
	ID          string // the first digits of its key's SHA-256
	Name        string // in plain words
	First, Last layers.Date
}

// Link lets one device in.
type Link struct {
	Key   string    `json:"key"`
	Until time.Time `json:"until"`
}

// ErrLink is that no device is let in by a link.
var ErrLink = errors.New("this link was used before or is too old: ask for a new one where panecore runs")

// ErrFull is that no more devices are let in.
var ErrFull = fmt.Errorf("found %d paired devices, which is the most there may be: revoke one first", mostDevices)

// NewLink makes a link, after which the one before lets nobody in.
func (f *Folder) NewLink() (Link, error) {
	link := Link{rand.Text(), f.now().Add(linkTime)} // at least 128 bits
	return link, f.write(linkFile, link)
}

// Link is the link that is good now; ok is false if there is none.
func (f *Folder) Link() (link Link, ok bool) {
	err := f.read(linkFile, &link)
	return link, err == nil && link.Key != "" && f.now().Before(link.Until)
}

// Pair lets a device in by the key of a link, which is used up by that. agent is what the browser
// calls itself. The device's own key is returned: nothing else tells it again. The error is
// ErrLink, ErrFull or a failure of the system.
func (f *Folder) Pair(link, agent string) (key string, device Device, err error) {
	good, ok := f.Link()
	if !ok || subtle.ConstantTimeCompare([]byte(good.Key), []byte(link)) != 1 {
		return "", Device{}, ErrLink
	}
	list, err := f.List()
	switch {
	case err != nil:
		return "", Device{}, err
	case len(list) >= mostDevices:
		return "", Device{}, ErrFull
	}
	if err := os.Remove(f.file(linkFile)); err != nil { // of two at once one removes it
		return "", Device{}, ErrLink
	}
	key = rand.Text()
	sum := sumOf(key)
	today := layers.DateOf(f.now())
	kept := record{nameOf(agent), today.String()}
	if err := f.write(sum, kept); err != nil {
		return "", Device{}, err
	}
	f.Seen(key)
	return key, kept.device(sum, today), nil
}

// record is what a device's file holds.
type record struct {
	Name  string `json:"name"`
	First string `json:"first_seen"` // YYYY-MM-DD
}

func (r record) device(sum string, last layers.Date) Device {
	first, err := layers.ParseDate(r.First)
	if err != nil {
		first = last
	}
	return Device{sum[:shortID], r.Name, first, last}
}

// Seen reports whether a device of that key is let in, and whether this is the first time on this
// day that it was seen, which is noted.
func (f *Folder) Seen(key string) (known, anew bool) {
	path := f.file(sumOf(key))
	file, err := os.Stat(path)
	if err != nil {
		return false, false
	}
	now := f.now()
	if anew = layers.DateOf(file.ModTime().In(now.Location())) != layers.DateOf(now); anew {
		os.Chtimes(path, now, now) // failing, it only looks older; once revoked it stays away
	}
	return true, anew
}

// List lists the devices, the one seen last first.
func (f *Folder) List() ([]Device, error) {
	entries, err := os.ReadDir(f.path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	var list []Device
	for _, entry := range entries {
		sum, ok := strings.CutSuffix(entry.Name(), suffix)
		if !ok || len(sum) != hex.EncodedLen(sha256.Size) {
			continue
		}
		info, err := entry.Info()
		if err != nil {
			continue // it was revoked meanwhile
		}
		var kept record
		if f.read(sum, &kept) != nil {
			kept.Name = "a device whose file is damaged" // it is let in all the same: whoever revokes it must see it
		}
		list = append(list, kept.device(sum, layers.DateOf(info.ModTime().In(f.now().Location()))))
	}
	slices.SortFunc(list, func(a, b Device) int {
		if a.Last != b.Last {
			return int(b.Last - a.Last)
		}
		return strings.Compare(a.ID, b.ID)
	})
	return list, nil
}

// Revoke shuts a device out from now on. found is false if there is none of that id.
func (f *Folder) Revoke(id string) (device Device, found bool, err error) {
	list, err := f.List()
	i := slices.IndexFunc(list, func(d Device) bool { return d.ID == id })
	if err != nil || i < 0 {
		return Device{}, false, err
	}
	files, err := filepath.Glob(f.file(id + "*"))
	if err != nil {
		return Device{}, false, err
	}
	for _, file := range files {
		if err := os.Remove(file); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return Device{}, false, err
		}
	}
	return list[i], true, nil
}

// Serve notes the address at which the page is served to other devices, until the end is called.
func (f *Folder) Serve(address string) (end func(), err error) {
	if err := f.write(servingFile, address); err != nil {
		return nil, err
	}
	return func() {
		os.Remove(f.file(servingFile))
		os.Remove(f.file(linkFile))
	}, nil
}

// Serving is the address at which the page is served to other devices; empty: nowhere.
func (f *Folder) Serving() (address string) {
	if f.read(servingFile, &address) != nil {
		return ""
	}
	return address
}

// Cookie is the name of the cookie that holds a device's key. Logbooks that are served by one host
// share its cookies, so each has its own.
func (f *Folder) Cookie() string {
	path, err := filepath.Abs(f.path)
	if err != nil {
		path = f.path
	}
	return "panecore-device-" + sumOf(path)[:shortID]
}

func (f *Folder) file(name string) string { return filepath.Join(f.path, name+suffix) }

func (f *Folder) read(name string, value any) error {
	text, err := os.ReadFile(f.file(name))
	if err != nil {
		return err
	}
	return json.Unmarshal(text, value)
}

// write writes a file that nobody else of the machine can read, completely or not at all.
func (f *Folder) write(name string, value any) error {
	text, err := json.Marshal(value)
	if err != nil {
		return err
	}
	return shell.WritePrivate(f.file(name), text)
}

func sumOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}
