package web

import (
	"context"
	"fmt"
	"io"
	"net/http"

	"panecore/reports/web/site"
)

func (s *server) keep(w http.ResponseWriter, r *http.Request) error {
	return s.Show(w, r, http.StatusOK, "keep", site.Frame{Title: "Back up and export", Style: "keep.css"}, onlyCommands)
}

// onlyCommands do what no page does.
var onlyCommands = []struct{ Command, What string }{
	{"panecore import FILE", "reads in a document that export wrote, or one that you made"},
	{"panecore check", "checks the logbook for damage, and shows where the file is"},
	{"panecore core list TANK --all", "shows what was amended and removed, and when"},
	{"panecore bands add NAME --hex COLOUR --band BAND", "adds a colour of your own whose band you know"},
	{"panecore tank retire TANK", "puts away a tank that you no longer keep; nothing is lost"},
	{"panecore report --all --out FOLDER --format html", "writes a printable report of every tank"},
	{"panecore sheet --out sheet.html", "makes a blank sheet to fill in at the glass, with rulers for photos"},
	{"panecore serve --lan --addr :8080", "lets your phone in, after it has scanned a code"},
	{"panecore export --format csv", "writes the cores as a table"},
}

// download answers with a file that is written as it goes.
func (s *server) download(ending, kind string, write func(context.Context, io.Writer) error) site.Handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		file := &lateHead{ResponseWriter: w, head: func() {
			w.Header().Set("Content-Type", kind)
			w.Header().Set("Content-Disposition", fmt.Sprintf(`attachment; filename="panecore-%s.%s"`, s.Today(), ending))
		}}
		err := write(r.Context(), file)
		if err != nil && file.begun {
			panic(http.ErrAbortHandler) // so that the browser sees that the file is incomplete
		}
		return err
	}
}

// lateHead writes a file's headers with its first bytes: an error before that is shown as a page.
type lateHead struct {
	http.ResponseWriter
	head  func()
	begun bool
}

func (l *lateHead) Write(b []byte) (int, error) {
	if !l.begun {
		l.head()
		l.begun = true
	}
	return l.ResponseWriter.Write(b)
}
