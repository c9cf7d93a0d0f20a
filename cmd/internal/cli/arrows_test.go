package cli_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const moduleRoot = "../../.."

// arrows says which of the module's packages and which libraries each package may
// import beside the standard library. A library stands for the packages below it.
// A package that is missing here may not be in the module: say first what it may see.
var arrows = map[string][]string{
	"cmd/internal/browsertest": {"panecore/cmd/internal/programtest", "github.com/chromedp/cdproto", "github.com/chromedp/chromedp"},
	"cmd/internal/cli": {
		"panecore/cmd/internal/demo", "panecore/cmd/internal/devices", "panecore/cmd/internal/photos", "panecore/cmd/internal/records",
		"panecore/cmd/internal/serve", "panecore/cmd/internal/shell", "panecore/layers", "panecore/layers/logbook", "panecore/layers/tag", "panecore/palette", "panecore/reports",
		"panecore/reports/figure", "panecore/reports/figure/timeline", "panecore/reports/judge", "panecore/reports/page", "panecore/reports/table",
		"github.com/charmbracelet/x/ansi", "github.com/olekukonko/tablewriter", "github.com/spf13/cobra",
	},
	"cmd/internal/demo": {
		"panecore/cmd/internal/photos", "panecore/cmd/internal/shell", "panecore/layers", "panecore/layers/logbook",
		"panecore/palette", "panecore/reports", "panecore/reports/figure", "panecore/reports/figure/pen",
		"panecore/reports/figure/timeline", "panecore/reports/judge", "panecore/reports/page", "panecore/reports/words",
		"github.com/spf13/cobra",
	},
	"cmd/internal/devices": {
		"panecore/cmd/internal/shell", "panecore/layers", "panecore/layers/logbook", "panecore/reports/figure/qr",
		"panecore/reports/table", "github.com/spf13/cobra",
	},
	"cmd/internal/photos": {
		"panecore/cmd/internal/records", "panecore/cmd/internal/shell", "panecore/layers", "panecore/layers/logbook",
		"panecore/layers/photo", "panecore/layers/photo/picture", "panecore/layers/photo/tagged", "panecore/layers/tag", "panecore/palette",
		"panecore/reports", "panecore/reports/infer", "panecore/reports/judge", "panecore/reports/overlay", "panecore/reports/page", "panecore/reports/table",
		"panecore/reports/words", "github.com/spf13/cobra", "github.com/spf13/pflag",
	},
	"cmd/internal/programtest": {"panecore/cmd/internal/cli", "panecore/cmd/internal/shell"},
	"cmd/internal/records": {
		"panecore/cmd/internal/shell", "panecore/layers", "panecore/layers/logbook", "panecore/palette", "panecore/reports",
		"panecore/reports/figure", "panecore/reports/infer", "panecore/reports/judge", "panecore/reports/table",
		"panecore/reports/words", "github.com/charmbracelet/x/ansi", "github.com/spf13/cobra", "github.com/spf13/pflag",
	},
	"cmd/internal/serve": {
		"panecore/cmd/internal/demo", "panecore/cmd/internal/devices", "panecore/cmd/internal/photos", "panecore/cmd/internal/shell",
		"panecore/layers", "panecore/layers/logbook", "panecore/layers/photo", "panecore/layers/photo/picture", "panecore/palette",
		"panecore/reports", "panecore/reports/infer", "panecore/reports/overlay", "panecore/reports/web", "panecore/reports/web/reader",
		"panecore/reports/web/site",
		"github.com/spf13/cobra",
	},
	"cmd/internal/shell": {
		"panecore/layers", "panecore/layers/logbook", "panecore/palette", "panecore/reports", "panecore/reports/figure/pen",
		"panecore/reports/judge", "panecore/reports/page", "panecore/reports/table", "github.com/charmbracelet/colorprofile",
		"github.com/spf13/cobra", "github.com/spf13/pflag", "golang.org/x/term",
	},
	"cmd/panecore":                    {"panecore/cmd/internal/cli", "panecore/cmd/internal/shell"},
	"layers":                          {"panecore/layers/jsonio", "panecore/palette"},
	"layers/bed":                      {},
	"layers/jsonio":                   {"github.com/go-json-experiment/json"},
	"layers/logbook":                  {"panecore/layers", "panecore/palette", "modernc.org/sqlite"},
	"layers/photo":                    {"panecore/layers", "panecore/layers/photo/picture", "panecore/layers/photo/register", "panecore/layers/photo/seek", "panecore/layers/tag", "panecore/palette"},
	"layers/tag":                      {"panecore/layers", "rsc.io/qr"},
	"layers/photo/internal/testscene": {"panecore/palette"},
	"layers/photo/seek":               {"panecore/layers/photo/picture"},
	"layers/photo/tagged":             {"panecore/layers/photo", "panecore/layers/photo/picture", "panecore/layers/tag", "github.com/makiuchi-d/gozxing"},
	"layers/photo/picture":            {"panecore/layers/photo/picture/heic", "golang.org/x/image"},
	"layers/photo/register":           {"panecore/layers/photo/picture"},
	"layers/photo/picture/heic":       {"github.com/tetratelabs/wazero"},
	"palette":                         {"github.com/lucasb-eyer/go-colorful"},
	"reports":                         {"panecore/layers", "panecore/palette"},
	"reports/figure":                  {"panecore/layers", "panecore/layers/tag", "panecore/palette", "panecore/reports", "panecore/reports/figure/pen", "panecore/reports/words"},
	"reports/figure/internal/testpictures": {
		"panecore/layers", "panecore/palette", "panecore/reports", "panecore/reports/figure/pen", "pgregory.net/rapid",
	},
	"reports/figure/pen":            {"panecore/layers", "panecore/palette", "panecore/reports/words", "codeberg.org/go-pdf/fpdf", "golang.org/x/image"},
	"reports/figure/qr":             {"rsc.io/qr"},
	"reports/figure/timeline":       {"panecore/layers", "panecore/reports", "panecore/reports/figure/pen", "panecore/reports/words"},
	"reports/infer":                 {"panecore/layers", "panecore/layers/bed", "panecore/palette", "panecore/reports", "panecore/reports/stats", "panecore/reports/trend"},
	"reports/internal/testbeds":     {"panecore/layers", "panecore/palette", "panecore/reports"},
	"reports/internal/testlikeness": {},
	"reports/internal/testworlds": {
		"panecore/layers", "panecore/palette", "panecore/reports/internal/testbeds", "gonum.org/v1/gonum",
	},
	"reports/judge": {
		"panecore/layers", "panecore/layers/bed", "panecore/palette", "panecore/reports", "panecore/reports/infer",
		"panecore/reports/rehearsal", "panecore/reports/rules",
	},
	"reports/overlay": {
		"panecore/layers", "panecore/layers/photo", "panecore/layers/photo/picture", "panecore/palette", "panecore/reports",
		"panecore/reports/figure/pen", "golang.org/x/image",
	},
	"reports/page": {
		"panecore/layers", "panecore/layers/tag", "panecore/palette", "panecore/reports", "panecore/reports/figure", "panecore/reports/figure/pen",
		"panecore/reports/figure/timeline", "panecore/reports/words",
	},
	"reports/rehearsal": {
		"panecore/layers", "panecore/layers/bed", "panecore/reports", "panecore/reports/infer", "panecore/reports/rules",
		"panecore/reports/stats",
	},
	"reports/rules": {
		"panecore/layers", "panecore/layers/bed", "panecore/palette", "panecore/reports", "panecore/reports/infer",
		"panecore/reports/stats",
	},
	"reports/stats": {"panecore/reports", "gonum.org/v1/gonum"},
	"reports/table": {
		"panecore/layers", "panecore/palette", "panecore/reports", "panecore/reports/words", "github.com/charmbracelet/x/ansi",
		"github.com/olekukonko/tablewriter",
	},
	"reports/trend": {"gonum.org/v1/gonum"},
	"reports/web": {
		"panecore/layers", "panecore/layers/tag", "panecore/reports", "panecore/reports/figure", "panecore/reports/figure/qr", "panecore/reports/figure/timeline",
		"panecore/reports/judge", "panecore/reports/page", "panecore/reports/web/forms", "panecore/reports/web/reader", "panecore/reports/web/site",
		"panecore/reports/words",
	},
	"reports/web/forms": {
		"panecore/layers", "panecore/palette", "panecore/reports", "panecore/reports/figure", "panecore/reports/judge",
		"panecore/reports/web/site", "panecore/reports/words",
	},
	"reports/web/reader": {"panecore/layers", "panecore/palette", "panecore/reports", "panecore/reports/web/site", "panecore/reports/words"},
	"reports/web/site": {
		"panecore/layers", "panecore/palette", "panecore/reports", "panecore/reports/figure/pen", "panecore/reports/judge",
		"panecore/reports/words",
	},
	"reports/words": {"panecore/layers", "panecore/reports"},
}

// testLibraries are those that only tests may import.
var testLibraries = []string{
	"github.com/chromedp/cdproto", "github.com/chromedp/chromedp", "github.com/google/go-cmp", "github.com/rogpeppe/go-internal", "pgregory.net/rapid",
}

// testArrows says what only the tests of a package may import beside.
var testArrows = map[string][]string{
	"cmd/internal/cli":     {"panecore/cmd/internal/browsertest", "panecore/cmd/internal/programtest"},
	"cmd/internal/serve":   {"panecore/cmd/internal/browsertest", "panecore/cmd/internal/cli", "panecore/cmd/internal/programtest"},
	"layers/photo":         {"panecore/layers/photo/internal/testscene", "panecore/reports", "panecore/reports/infer", "panecore/reports/judge"},
	"layers/tag":           {"github.com/makiuchi-d/gozxing"},
	"layers/photo/tagged":  {"rsc.io/qr"},
	"layers/photo/picture": {"github.com/lucasb-eyer/go-colorful"},
	"reports/figure": {
		"panecore/palette", "panecore/reports/figure/internal/testpictures", "panecore/reports/figure/timeline",
		"panecore/reports/internal/testlikeness",
	},
	"reports/figure/timeline": {"panecore/palette", "panecore/reports/figure/internal/testpictures"},
	"reports/infer":           {"panecore/reports/internal/testbeds"},
	"reports/judge":           {"panecore/reports/internal/testbeds", "panecore/reports/internal/testworlds", "panecore/reports/stats"},
	"reports/overlay":         {"panecore/reports/internal/testlikeness"},
	"reports/page":            {"panecore/reports/judge"},
	"reports/rules":           {"panecore/reports/internal/testbeds"},
	"reports/stats":           {"panecore/reports/internal/testbeds"},
	"reports/table":           {"panecore/reports/judge"},
	"reports/trend":           {"panecore/reports/internal/testbeds"},
	"reports/web":             {"panecore/palette"},
	"reports/words":           {"panecore/palette", "panecore/reports/judge"},
}

func TestArrows_onlyThoseOfTheTable(t *testing.T) {
	for _, f := range sourceFiles(t) {
		allowed, known := arrows[f.dir]
		if !known {
			t.Errorf("%s: no row in the table of arrows for package %s", f.path, f.dir)
			continue
		}
		if f.isTest {
			allowed = slices.Concat(allowed, testLibraries, testArrows[f.dir], []string{"panecore/" + f.dir})
		}
		for _, path := range f.imports(t) {
			if !isStandard(path) && !allows(allowed, path) {
				t.Errorf("%s: imports %s, which package %s may not see", f.path, path, f.dir)
			}
		}
	}
}

// Only the program's shell meets the process: below cmd nothing reads a clock or
// the environment, prints by itself or ends the process.
func TestArrows_outsideWorldOnlyInCmd(t *testing.T) {
	forbidden := map[string][]string{
		"time":    {"Now", "Since", "Until", "Sleep", "After", "Tick", "NewTimer", "NewTicker"},
		"os":      {"Args", "Environ", "Exit", "Getenv", "LookupEnv", "Setenv", "Stderr", "Stdin", "Stdout"},
		"fmt":     {"Print", "Printf", "Println"},
		"log":     {"Fatal", "Fatalf", "Fatalln", "Print", "Printf", "Println"},
		"syscall": {"Exit", "Getenv"},
	}
	for _, f := range sourceFiles(t) {
		if f.isTest || f.dir == "cmd" || strings.HasPrefix(f.dir, "cmd/") {
			continue
		}
		ast.Inspect(f.syntax, func(n ast.Node) bool {
			selector, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if of, ok := selector.X.(*ast.Ident); ok && slices.Contains(forbidden[of.Name], selector.Sel.Name) {
				t.Errorf("%s: uses %s.%s", f.position(n), of.Name, selector.Sel.Name)
			}
			return true
		})
	}
}

func TestArrows_noInit(t *testing.T) {
	for _, f := range sourceFiles(t) {
		for _, declared := range f.syntax.Decls {
			if fn, ok := declared.(*ast.FuncDecl); ok && fn.Recv == nil && fn.Name.Name == "init" {
				t.Errorf("%s: has an init function", f.position(fn))
			}
		}
	}
}

// A sourceFile is one Go file of the module, whatever system it builds on.
type sourceFile struct {
	path, dir string // slashes, from the module's root
	isTest    bool
	files     *token.FileSet
	syntax    *ast.File
}

func (f sourceFile) position(n ast.Node) string { return f.files.Position(n.Pos()).String() }

func (f sourceFile) imports(t *testing.T) []string {
	t.Helper()
	var paths []string
	for _, spec := range f.syntax.Imports {
		path, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	return paths
}

func sourceFiles(t *testing.T) []sourceFile {
	t.Helper()
	var found []sourceFile
	err := filepath.WalkDir(moduleRoot, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && strings.HasPrefix(entry.Name(), ".") && path != moduleRoot {
			return filepath.SkipDir
		}
		if entry.IsDir() || filepath.Ext(path) != ".go" {
			return nil
		}
		f, err := parse(path)
		found = append(found, f)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(found) == 0 {
		t.Fatal("found no Go file")
	}
	return found
}

func parse(path string) (sourceFile, error) {
	below, err := filepath.Rel(moduleRoot, path)
	if err != nil {
		return sourceFile{}, err
	}
	f := sourceFile{
		path:   filepath.ToSlash(below),
		dir:    filepath.ToSlash(filepath.Dir(below)),
		isTest: strings.HasSuffix(below, "_test.go"),
		files:  token.NewFileSet(),
	}
	f.syntax, err = parser.ParseFile(f.files, path, nil, parser.SkipObjectResolution)
	return f, err
}

// isStandard reports whether an import path is the standard library's: only there
// the first part has no dot, but for the module itself.
func isStandard(path string) bool {
	first, _, _ := strings.Cut(path, "/")
	return first != "panecore" && !strings.Contains(first, ".")
}

// allows reports whether path is on the list: a package of the module by itself, a
// library with all below it.
func allows(list []string, path string) bool {
	return slices.ContainsFunc(list, func(allowed string) bool {
		if strings.HasPrefix(allowed, "panecore/") {
			return path == allowed
		}
		return path == allowed || strings.HasPrefix(path, allowed+"/")
	})
}
