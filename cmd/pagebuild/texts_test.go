package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"shimsheet/internal/words"
)

const root = "../.."

// Every text of the page is used and every use has its text.
func TestTexts(t *testing.T) {
	of, err := pageTexts(root, words.Catalogue)
	if err != nil || len(of) < 150 {
		t.Errorf("%d texts, %v", len(of), err)
	}
	file := filepath.Join(t.TempDir(), "texts.json")
	if err := (texts{"a.b.c": "x", "a.d": "y", "body.e": "z", "locale": "en"}).module(file); err != nil {
		t.Fatal(err)
	}
	if b, _ := os.ReadFile(file); string(b) != `{"a":{"b":{"c":"x"},"d":"y"},"locale":"en"}` {
		t.Errorf("%s", b)
	}
}

func TestTextsWrong(t *testing.T) {
	for _, c := range []struct {
		words              texts
		html, script, want string
	}{
		{texts{"a.b": "x", "c": "y"}, `<b title="{{a.b}}">`, `T.c`, ""},
		{texts{"a.b": "x"}, `{{a.b}}{{a.c}}`, ``, "no text a.c"},
		{texts{"a.b": "x"}, `{{a.b}}`, `T.a.d.length`, "no text a.d"},
		{texts{"a.b": "x", "a.c": "y"}, `{{a.b}}`, ``, "nothing uses the text a.c"},
	} {
		err := c.words.check(c.html, c.script)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%v with %s and %s: %v, want %q", c.words, c.html, c.script, err, c.want)
		}
	}
}

func TestPutTexts(t *testing.T) {
	words := texts{"a.b": `"x" & <y>`}
	if got, err := words.put(`<b title="{{a.b}}">{{a.b}}</b>`); err != nil || got != `<b title="&quot;x&quot; &amp; &lt;y&gt;">&quot;x&quot; &amp; &lt;y&gt;</b>` {
		t.Errorf("%s, %v", got, err)
	}
	if got, err := words.put("{{a.c}}"); err == nil {
		t.Errorf("it became %s", got)
	}
}

// No line of a script is longer than 140 characters.
func TestScriptLines(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(root, "web", "*.js"))
	if err != nil || len(files) < 14 {
		t.Fatal(files, err)
	}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for k, line := range strings.Split(string(b), "\n") {
			if n := utf8.RuneCountInString(line); n > 140 {
				t.Errorf("%s:%d has %d characters", filepath.Base(f), k+1, n)
			}
		}
	}
}

// No sentence stands in a script or in the HTML beside the catalogue.
func TestNoWordsInScripts(t *testing.T) {
	// what has two words and is not read by a person: classes, selectors, media, the marks between parts of the page, what the program says
	allowed := regexp.MustCompile(`^(\(pointer: fine\)|</script>.*|results of this program|\.[\w-]+ \w+:[\w-]+)$`)
	place := regexp.MustCompile(`(\b(class|className|"aria-describedby"|"data-keep")\s*[:=]\s*|\b(querySelector|querySelectorAll|closest|matches)(\?\.)?\()$`)
	files, err := filepath.Glob(filepath.Join(root, "web", "*.js"))
	if err != nil || len(files) < 14 {
		t.Fatal(files, err)
	}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range literals(string(b)) {
			if twoWords.MatchString(l.text) && !allowed.MatchString(l.text) && !place.MatchString(l.before) {
				t.Errorf("%s:%d: %q belongs into the catalogue", filepath.Base(f), l.line, l.text)
			}
		}
	}
	html, _, err := sources(root)
	if err != nil {
		t.Fatal(err)
	}
	html = regexp.MustCompile(`(?s)<(style)>.*?</style>|<(script)>.*?</script>`).ReplaceAllString(html, "") // of the skeleton: the word before there is a program
	tag := regexp.MustCompile(`<[^>]*>`)
	for _, m := range regexp.MustCompile(`(?:title|aria-label|placeholder)="([^"]*\pL{2}[^"]*)"`).FindAllStringSubmatch(html, -1) {
		if !textInHTML.MatchString(m[1]) {
			t.Errorf("%s belongs into the catalogue", m[0])
		}
	}
	for _, s := range regexp.MustCompile(`[\pL]{2}[^\n]*`).FindAllString(textInHTML.ReplaceAllString(tag.ReplaceAllString(html, "\n"), ""), -1) {
		if s != "Shimsheet" && !strings.HasPrefix(s, "TITLE@@") && !strings.Contains(s, "@@") && s != "shimsheetPiece(true)" && s != `end"` {
			t.Errorf("%q belongs into the catalogue", s)
		}
	}
}

// The scan above must see what it looks for.
func TestLiterals(t *testing.T) {
	const script = "// \"not this one\"\nconst a = 'one two', re = /[\"'`/]\\/x y/g; /* \"nor this\" */ f(`three ${b ? \"four five\" : `six ${c} seven`} eight`); x = y / 2; z = \"nine \\\" ten\";"
	var got []string
	for _, l := range literals(script) {
		got = append(got, l.text)
	}
	if s := strings.Join(got, "|"); s != `one two|four five|six {} seven|three {} eight|nine \" ten` {
		t.Error(s)
	}
}

var twoWords = regexp.MustCompile(`\pL{2,}[,.:;!?]?\s+\pL{2,}`)

type literal struct {
	text   string // a template's with {} for its expressions
	before string // of its line
	line   int
}

// literals finds the strings and templates of a script: comments and regular expressions are passed over.
func literals(s string) []literal {
	var out []literal
	i := 0
	var code func(closing byte)
	code = func(closing byte) {
		depth := 0
		last := byte('(') // the last character that is no blank: says whether a / begins a regular expression
		for i < len(s) {
			c := s[i]
			switch {
			case strings.HasPrefix(s[i:], "//"):
				for i < len(s) && s[i] != '\n' {
					i++
				}
				continue
			case strings.HasPrefix(s[i:], "/*"):
				i += strings.Index(s[i:], "*/") + 2
				continue
			case c == '/' && (strings.IndexByte("(,=:[!&|?{};+>", last) >= 0 || strings.HasSuffix(strings.TrimSpace(s[:i]), "return")):
				for class := false; ; {
					if i++; s[i] == '\\' {
						i++
					} else if s[i] == '[' {
						class = true
					} else if s[i] == ']' {
						class = false
					} else if s[i] == '/' && !class {
						break
					}
				}
			case c == '"' || c == '\'' || c == '`':
				from := i
				var text strings.Builder
				for i++; s[i] != c; i++ {
					switch {
					case s[i] == '\\':
						text.WriteByte(s[i])
						i++
						text.WriteByte(s[i])
					case c == '`' && strings.HasPrefix(s[i:], "${"):
						i += 2
						code('}')
						text.WriteString("{}")
					default:
						text.WriteByte(s[i])
					}
				}
				begin := strings.LastIndexByte(s[:from], '\n') + 1
				out = append(out, literal{text.String(), s[begin:from], 1 + strings.Count(s[:from], "\n")})
			case c == '{':
				depth++
			case c == '}':
				if depth == 0 && closing == '}' {
					return
				}
				depth--
			}
			if c = s[i]; c != ' ' && c != '\n' && c != '\t' {
				last = c
			}
			i++
		}
	}
	code(0)
	return out
}
