// Command pagebuild puts the offline page together: one HTML file that asks for nothing.
//
//	pagebuild -o dist/shimsheet.html
//
// It builds the page's Go program and the one for workbook files for WebAssembly, bundles the scripts with esbuild, and fills the parts into
// web/skeleton.html. The words of the page come from internal/words/catalogue.txt, or with -language xx from catalogue.xx.txt beside it. The program for workbook files stands last in the page,
// as changes to the page's own (delta.go), and is not touched before a workbook is wanted.
// The page keeps each part as it was put in, skeleton included, so that it can write a copy of itself with a job inside from the
// same parts in the same way (savedPage in web/files.js). Node is not needed.
package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"shimsheet/internal/desk"
)

// jobScript is where a job stands in the page. Other programs put a job in by replacing exactly this.
const jobScript = `<script type="application/json" id="job">null</script>`

// title is the page's title without a job.
const title = "Shimsheet"

func main() {
	out := flag.String("o", "dist/shimsheet.html", "the page to write")
	sizes := flag.String("sizes", "", "file to write the sizes of the packed programs into, a line each")
	version := flag.String("version", "development", "version shown in the page")
	language := flag.String("language", "en", "language of the page: xx takes its words from internal/words/catalogue.xx.txt")
	scripts := flag.String("scripts", "", "a copy of web/: only its script for the page is bundled and written, no page")
	join := flag.String("join", "", "a program for WebAssembly: what its memory begins with is joined into one piece, in place, and no page is built")
	texts := flag.String("texts", "", "a program for WebAssembly, as ./cmd/worker: what go build is told so that it holds what it says of the catalogue alone is printed, and no page is built")
	flag.Parse()
	work := func() error { return build(*out, *sizes, *version, *language, *scripts) }
	if *join != "" {
		work = func() error { return joinFile(*join) }
	}
	if *texts != "" {
		work = func() error { return tellTexts(*language, *texts) }
	}
	if err := work(); err != nil {
		fmt.Fprintln(os.Stderr, "pagebuild:", err)
		os.Exit(1)
	}
}

// tellTexts prints what go build is told.
func tellTexts(language, program string) error {
	mod, err := goEnv("GOMOD")
	if err != nil {
		return err
	}
	flags, err := catalogue(filepath.Dir(mod), language, program)
	if err == nil {
		_, err = fmt.Println(strings.Join(flags, " "))
	}
	return err
}

// joinFile joins the data of a program in a file: see onePiece.
func joinFile(name string) error {
	program, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	if program, err = onePiece(program); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return os.WriteFile(name, program, 0o644)
}

func build(out, sizesTo, version, language, scripts string) error {
	mod, err := goEnv("GOMOD")
	if err != nil {
		return err
	}
	root := filepath.Dir(mod)
	goroot, err := goEnv("GOROOT")
	if err != nil {
		return err
	}
	spoken, err := inLanguage(root, language)
	if err != nil {
		return err
	}
	words, err := pageTexts(root, spoken)
	if err != nil {
		return err
	}
	wordsFile := filepath.Join(root, "dist", "texts."+language+".json")
	if err := errors.Join(os.MkdirAll(filepath.Dir(wordsFile), 0o755), words.module(wordsFile)); err != nil {
		return err
	}
	if scripts != "" {
		app, err := bundle(filepath.Join(scripts, "boot.js"), filepath.Join(goroot, "lib", "wasm", "wasm_exec.js"), wordsFile)
		if err != nil {
			return err
		}
		return os.WriteFile(out, []byte(app), 0o644)
	}
	_, code, err := sources(root)
	if err != nil {
		return err
	}
	if code, err = callers(root, code); err != nil {
		return err
	}
	if err := checkOperations(code, desk.Operations()); err != nil {
		return err
	}
	screenWords, err := catalogue(root, language, "./cmd/wasm/page", "./cmd/wasm/workbook")
	if err != nil {
		return err
	}
	packed, sizes := map[string][]byte{}, map[string]int{}
	var first []byte // the page's own program, which that for workbooks is written as changes to
	for _, name := range []string{"page", "workbook"} {
		flags := slices.Clone(screenWords)
		if name == "workbook" {
			modfile, err := slim(root)
			if err != nil {
				return err
			}
			flags = append(flags, "-modfile="+modfile)
		}
		wasm, err := program(root, name, version, flags...)
		if err != nil {
			return err
		}
		if name == "page" {
			if wasm, err = begun(wasm); err != nil {
				return err
			}
		}
		sizes[name] = len(wasm)
		if name == "page" {
			first = wasm
		} else {
			wasm = delta(first, wasm)
		}
		if packed[name], err = compress(wasm); err != nil {
			return err
		}
	}
	read := func(name string) string {
		b, e := os.ReadFile(filepath.Join(root, "web", name))
		err = errors.Join(err, e)
		return strings.ReplaceAll(string(b), "\r\n", "\n")
	}
	skeleton, body, style := read("skeleton.html"), read("index.html"), read("style.css")+read("../internal/screens/cards.css")+read("vendor/regular-table/dist/css/sub-cell-scrolling.css")
	if err != nil {
		return err
	}
	if skeleton, err = words.put(skeleton); err != nil {
		return err
	}
	if body, err = words.put(body); err != nil {
		return err
	}
	demo := map[string]string{}
	for _, list := range []string{"machines", "job", "readings", "stock", "growth", "feet", "limits", "materials", "checks", "rounds", "trains", "record"} {
		demo[list] = read(filepath.Join("..", "testdata", "demo", list+".csv"))
	}
	_, evidence, _ := strings.Cut(read(filepath.Join("..", "EVIDENCE.md")), "<!-- evidence:")
	_, evidence, _ = strings.Cut(evidence, "-->\n")
	evidence, _, _ = strings.Cut(evidence, "<!-- /evidence -->")
	notices := []string{read(filepath.Join("..", "THIRD_PARTY.md")), read(filepath.Join("..", "LICENSE")), evidence}
	if err != nil {
		return err
	}
	for name, texts := range map[string]any{"licences": notices, "demo": demo} {
		if packed[name], err = compress([]byte(inScript(texts))); err != nil {
			return err
		}
	}
	wasmExec := filepath.Join(goroot, "lib", "wasm", "wasm_exec.js")
	app, err := bundle(filepath.Join(root, "web", "boot.js"), wasmExec, wordsFile)
	if err != nil {
		return err
	}
	worker, err := bundle(filepath.Join(root, "web", "worker.js"), wasmExec, wordsFile)
	if err != nil {
		return err
	}
	style, err = minifyCSS(style)
	if err != nil {
		return err
	}
	parts := map[string]string{
		"TITLE":    title,
		"STYLE":    style,
		"BODY":     inScript(body),
		"SKELETON": inScript(skeleton),
		"FIRST":    "",
		"JOB":      "null",
		"DEMO":     strings.Join(base91(packed["demo"], pieceLength), ""),
		"LICENCES": strings.Join(base91(packed["licences"], pieceLength), ""), // what is shipped asks for its notices to go with it; and what it was checked against
		"WASM":     strings.Join(base91(packed["page"], pieceLength), pieceBreak),
		"APP":      app,
		"WORKER":   inScript(worker),
		"WORKBOOK": strings.Join(base91(packed["workbook"], workbookPieceLength), workbookPieceBreak),
	}
	parts["MANIFEST"] = manifest(packed, parts)
	page, err := fill(skeleton, parts)
	if err != nil {
		return err
	}
	if n := strings.Count(page, jobScript); n != 1 {
		return fmt.Errorf("the page has %d places for a job, not 1", n)
	}
	if err := os.MkdirAll(filepath.Dir(out), 0o755); err != nil {
		return err
	}
	if err := os.WriteFile(out, []byte(page), 0o644); err != nil {
		return err
	}
	if sizesTo != "" {
		text := fmt.Sprintf("page %d\nworkbook %d\n", len(packed["page"]), len(packed["workbook"]))
		if err := os.WriteFile(sizesTo, []byte(text), 0o644); err != nil {
			return err
		}
	}
	fmt.Printf("%s: %d bytes (program %d, compressed %d; program for workbooks %d, compressed %d; scripts %d and %d, style %d, body %d)\n", out, len(page),
		sizes["page"], len(packed["page"]), sizes["workbook"], len(packed["workbook"]), len(app), len(worker), len(style), len(body))
	return nil
}

// manifest is the SHA-256 of each part as the page reads it back, programs without the breaks between their pieces: so that a page knows when it is damaged, and
// writes no damaged copy of itself. See damage in web/files.js.
func manifest(packed map[string][]byte, parts map[string]string) string {
	sums := map[string]string{}
	for name, text := range parts {
		switch name {
		case "TITLE", "FIRST", "JOB":
			continue
		case "WASM":
			text = strings.Join(base91(packed["page"], pieceLength), "")
		case "WORKBOOK":
			text = strings.Join(base91(packed["workbook"], workbookPieceLength), "")
		}
		sums[strings.ToLower(name)] = fmt.Sprintf("%x", sha256.Sum256([]byte(text)))
	}
	return inScript(sums)
}

// The program stands in several elements, each followed by a call that takes it: it is unpacked and compiled while the rest is still being
// parsed. pieceBreak is what stands between two; web/files.js puts the same between them again. Each piece is base 91 by itself, 8 % shorter than
// base64. Shorter pieces are no sooner unpacked: each costs the parser a stop.
const (
	pieceLength = 600_000 // bytes
	pieceBreak  = "</script><script>shimsheetPiece()</script>\n<script type=\"application/gzip\" class=\"part-wasm\">"
)

// The program for workbook files is taken piece by piece too, when it is wanted, so that no piece holds the page up.
const (
	workbookPieceLength = 300_000 // bytes
	workbookPieceBreak  = "</script>\n<script type=\"application/gzip\" class=\"part-workbook\">"
)

// letters are the digits of base 91: what can be printed of ASCII but the space and the three that mean something in a page or a script's text.
const letters = "!\"#$%'()*+,-./0123456789:;=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[]^_`abcdefghijklmnopqrstuvwxyz{|}~"

// base91 writes bytes as text, a piece for every n of them. Thirteen bits at a time, the first bit of a byte first, become two letters, v/91 and v%91:
// 8,192 values in 8,281 pairs. Of the bits left over six or fewer become one letter, more become two, filled up with zeros. bytes91 in
// web/bytes.js is the reverse.
func base91(b []byte, n int) []string {
	var out []string
	for len(b) > 0 {
		m := min(n, len(b))
		text := make([]byte, 0, m*16/13+2)
		bits, have := uint32(0), 0
		for _, x := range b[:m] {
			bits, have = bits<<8|uint32(x), have+8
			if have >= 13 {
				have -= 13
				v := bits >> have
				text = append(text, letters[v/91], letters[v%91])
				bits &= 1<<have - 1
			}
		}
		if have > 6 {
			v := bits << (13 - have)
			text = append(text, letters[v/91], letters[v%91])
		} else if have > 0 {
			text = append(text, letters[bits<<(6-have)])
		}
		out = append(out, string(text))
		b = b[m:]
	}
	return out
}

func goEnv(name string) (string, error) {
	b, err := exec.Command("go", "env", name).Output()
	s := strings.TrimSpace(string(b))
	if err == nil && (s == "" || s == os.DevNull) {
		err = fmt.Errorf("go env %s is empty: run inside the module", name)
	}
	return s, err
}

// inlined are the packages whose functions may be put into their callers, as the compiler does by itself: the runtime and what the work on rows
// goes through. Everything else is built without, which makes the programs 4 to 6 % smaller and nothing slower that anybody waits for.
var inlined = []string{"runtime", "internal/runtime/...", "internal/bytealg", "internal/sync", "sync", "sync/atomic", "math", "math/bits", "strconv", "strings", "bytes",
	"slices", "compress/flate", "hash/crc32", "shimsheet/internal/calc", "shimsheet/internal/jsonread", "shimsheet/internal/packs", "shimsheet/internal/units", "shimsheet/internal/workbook"}

// program builds one of the Go programs in cmd/wasm, with its data in one piece.
func program(root, name, version string, flags ...string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "pagebuild")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, name+".wasm")
	args := []string{"build", "-trimpath", "-ldflags", "-s -w -X main.version=" + version, "-gcflags=all=-l"}
	for _, p := range inlined {
		args = append(args, "-gcflags="+p+"=")
	}
	args = append(args, flags...)
	cmd := exec.Command("go", append(args, "-o", file, "./cmd/wasm/"+name)...)
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	cmd.Stdout, cmd.Stderr = os.Stdout, os.Stderr
	if err := cmd.Run(); err != nil {
		return nil, err
	}
	wasm, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	return onePiece(wasm)
}

// compress packs with libdeflate at its highest level where scripts/setup.sh has put it: in the time that the standard library takes it saves a twentieth. Either
// is a gzip file.
func compress(b []byte) ([]byte, error) {
	if path, err := exec.LookPath("libdeflate-gzip"); err == nil {
		f, err := os.CreateTemp("", "pagebuild")
		if err != nil {
			return nil, err
		}
		defer os.Remove(f.Name())
		_, err = f.Write(b)
		if err = errors.Join(err, f.Close()); err != nil {
			return nil, err
		}
		return exec.Command(path, "-12", "-k", "-c", f.Name()).Output()
	}
	var buf bytes.Buffer
	w, err := gzip.NewWriterLevel(&buf, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	_, err = w.Write(b)
	err = errors.Join(err, w.Close())
	return buf.Bytes(), err
}

// bundle makes one script of an entry and all it imports. Go's own loader comes from the tool chain that built the program; the words come from the
// file of one language, those groups of them that the scripts name.
func bundle(entry, wasmExec, words string) (string, error) {
	res := api.Build(api.BuildOptions{
		EntryPoints:       []string{entry},
		Bundle:            true,
		Format:            api.FormatIIFE,
		Target:            api.ES2022,
		Charset:           api.CharsetUTF8,
		MinifyWhitespace:  true,
		MinifySyntax:      true,
		MinifyIdentifiers: true,
		LegalComments:     api.LegalCommentsNone, // the licence of regular-table is named in the page's help
		Loader:            map[string]api.Loader{".css": api.LoaderText},
		Plugins: []api.Plugin{{
			Name: "outside",
			Setup: func(b api.PluginBuild) {
				b.OnResolve(api.OnResolveOptions{Filter: `^texts$`}, func(api.OnResolveArgs) (api.OnResolveResult, error) {
					return api.OnResolveResult{Path: words}, nil
				})
				b.OnResolve(api.OnResolveOptions{Filter: `^go:wasm_exec$`}, func(api.OnResolveArgs) (api.OnResolveResult, error) {
					return api.OnResolveResult{Path: wasmExec}, nil
				})
			},
		}},
	})
	if err := messages(res.Errors); err != nil {
		return "", err
	}
	return string(res.OutputFiles[0].Contents), nil
}

func minifyCSS(s string) (string, error) {
	res := api.Transform(s, api.TransformOptions{Loader: api.LoaderCSS, MinifyWhitespace: true, MinifySyntax: true, Target: api.ES2022})
	return strings.TrimSpace(string(res.Code)), messages(res.Errors)
}

func messages(list []api.Message) error {
	if len(list) == 0 {
		return nil
	}
	return errors.New(strings.Join(api.FormatMessages(list, api.FormatMessagesOptions{Kind: api.ErrorMessage}), "\n"))
}

// inScript writes a text, or several, as JSON that can stand in a script element.
func inScript(s any) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // every tag would be five bytes longer
	if err := e.Encode(s); err != nil {
		panic(err)
	}
	return endsScript.ReplaceAllString(strings.TrimSpace(b.String()), `\u003c$1`)
}

// endsScript is what has a meaning inside a script element.
var endsScript = regexp.MustCompile(`(?i)<(/?script|/style|!--)`)

var placeholder = regexp.MustCompile(`@@([A-Z]+)@@`)

// fill puts the parts into the skeleton, in one pass: what looks like a placeholder inside a part stays.
func fill(skeleton string, parts map[string]string) (string, error) {
	var missing error
	page := placeholder.ReplaceAllStringFunc(skeleton, func(m string) string {
		name := strings.Trim(m, "@")
		p, ok := parts[name]
		if !ok {
			missing = fmt.Errorf("web/skeleton.html asks for %s, which there is not", name)
		}
		if low := strings.ToLower(p); name != "TITLE" && name != "WASM" && name != "WORKBOOK" && (strings.Contains(low, "</script") || strings.Contains(low, "<!--") || strings.Contains(low, "</style")) {
			missing = fmt.Errorf("part %s holds what would end its element", name)
		}
		return p
	})
	return page, missing
}
