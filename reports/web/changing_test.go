package web

import (
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"testing/synctest"

	"panecore/reports/web/forms"
	"panecore/reports/web/reader"
	"panecore/reports/web/site"
)

// keepRecords are the routes that are posted to and change no record.
var keepRecords = []string{"POST /tank/{id}/preview", "POST /photo", "POST /photo/{draft}/read", "POST /photo/{draft}/drop", "POST /tank/{id}/core/{station}/{date}/photo"}

// While one change is made every other waits, and nothing else does.
func TestChanging_oneAtATime(t *testing.T) {
	on := &server{Site: &site.Site{Store: &fakeStore{}}}
	routes := on.routes()
	maps.Copy(routes, forms.New(on.Site, nil).Routes())
	maps.Copy(routes, reader.Routes(on.Site, nil, nil))
	for _, pattern := range slices.Sorted(maps.Keys(routes)) {
		posted, path, _ := strings.Cut(pattern, " ")
		path = strings.NewReplacer("{$}", "", "{id}", "loft-jar", "{station}", "front", "{date}", "2026-10-25", "{draft}", "gone").Replace(path)
		t.Run(pattern, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				p := newPhotoServer(t)
				p.store.hold = make(chan struct{})
				first, second := make(chan int, 1), make(chan int, 1)
				go func() {
					first <- p.post("/tank/loft-jar/water", url.Values{"date": {fakeToday}, "ph": {"7.4"}}).Code
				}()
				synctest.Wait()
				go func() {
					if posted == http.MethodPost {
						second <- p.post(path, nil).Code
					} else {
						second <- p.get(path).Code
					}
				}()
				synctest.Wait()
				changes := posted == http.MethodPost && !slices.Contains(keepRecords, pattern)
				if waits := len(second) == 0; waits != changes {
					t.Errorf("it waits for a change: %t, want %t", waits, changes)
				}
				close(p.store.hold)
				<-second
				if status := <-first; status != http.StatusSeeOther {
					t.Errorf("the first change: status %d, want %d", status, http.StatusSeeOther)
				}
			})
		})
	}
}
