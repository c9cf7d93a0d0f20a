package web

import (
	"context"
	"fmt"
	"io"
	"net/http"

	"panecore/reports/web/site"
)

func (s *server) keep(w http.ResponseWriter, r *http.Request) error {
	return s.Show(w, r, http.StatusOK, "keep", site.Frame{Title: "Keep and copy", Style: "keep.css"}, beside)
}

// deed is something that a command does and no page.
type deed struct{ Command, What string }

// beside are the deeds that only commands do.
var beside = []deed{
	{"panecore import FILE", "takes in a document that export wrote, or one of your own making"},
	{"panecore check", "looks the logbook through for damage, and says where it stands"},
	{"panecore core list TANK --all", "shows what was amended and removed, and when"},
	{"panecore bands add NAME --hex COLOUR --band BAND", "keeps a colour of your own whose meaning you know"},
	{"panecore tank retire TANK", "puts a tank away that is no longer kept; nothing of it is lost"},
	{"panecore report --all --out FOLDER --format html", "writes the printable page of every tank"},
	{"panecore sheet --out sheet.html", "makes a blank sheet to fill in at the glass, and rulers for photos"},
	{"panecore export --format csv", "writes the records as a table"},
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
			panic(http.ErrAbortHandler) // the browser is to see that the file is not whole
		}
		return err
	}
}

// lateHead writes a file's head with its first bytes, so that what fails before has a page.
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
