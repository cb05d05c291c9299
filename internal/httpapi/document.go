package httpapi

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"net/http"
	"strconv"
	"strings"
	"sync"
)

// A document is an answer that is the same for everybody, known by its digest, and kept packed.
type document struct {
	media  string
	policy string
	packed []byte        // nil: it lies elsewhere
	brotli func() []byte // nil: never
	etag   string

	once  sync.Once
	plain []byte // unpacked when somebody first wants it so
}

// pagePolicy is what the page may do, as it says itself, and that nobody may put a frame around it.
const pagePolicy = "default-src 'none'; script-src 'unsafe-inline' 'wasm-unsafe-eval'; style-src 'unsafe-inline'; img-src data: blob:; worker-src blob:; connect-src 'none'; " +
	"form-action 'none'; base-uri 'none'; frame-ancestors 'none'"

// HeaderAsset names the file, page.html or page.html.gz, that whoever mounts the handler puts in the place of the body. It is not for clients.
const HeaderAsset = "Shimsheet-Asset"

// newPage is the page, nil if there is none. Its tag is the digest of the packed bytes, which are the build's own, or given for one that lies elsewhere.
func newPage(packed []byte, brotli func() []byte, tag string) *document {
	if packed == nil && tag == "" {
		return nil
	}
	if packed != nil {
		tag = digest(packed)
	}
	return &document{media: mediaHTML + "; charset=utf-8", policy: pagePolicy, packed: packed, brotli: brotli, etag: tag}
}

// newDocument packs a text.
func newDocument(media string, text []byte) *document {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err == nil {
		if _, err = z.Write(text); err == nil {
			err = z.Close()
		}
	}
	if err != nil {
		panic("httpapi: " + err.Error())
	}
	d := &document{media: media, policy: apiPolicy, packed: b.Bytes(), etag: digest(text), plain: text}
	d.once.Do(func() {})
	return d
}

func digest(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:16])
}

// text is the document unpacked.
func (d *document) text() []byte {
	d.once.Do(func() {
		z, err := gzip.NewReader(bytes.NewReader(d.packed))
		if err == nil {
			d.plain, err = io.ReadAll(z)
		}
		if err != nil {
			panic("httpapi: the page is damaged: " + err.Error())
		}
	})
	return d.plain
}

// serve answers with the document, or with 304 where the client has it. Each packed form has a tag of its own, as its bytes are others.
func (d *document) serve(w *answer, r *http.Request) *problem {
	h := w.Header()
	tag, body := `"`+d.etag+`"`, []byte(nil)
	var br []byte
	if d.brotli != nil && d.packed != nil {
		br = d.brotli()
	}
	coding := packing(r, br != nil)
	if coding != "" {
		tag = `"` + d.etag + "-" + coding + `"`
	}
	h.Set("Vary", "Accept-Encoding")
	h.Set("Cache-Control", "no-cache")
	h.Set("ETag", tag)
	h.Set("Content-Security-Policy", d.policy)
	for known := range strings.SplitSeq(strings.Join(r.Header.Values("If-None-Match"), ","), ",") {
		if known = strings.TrimPrefix(strings.TrimSpace(known), "W/"); known == tag || known == "*" {
			w.WriteHeader(http.StatusNotModified)
			return nil
		}
	}
	h.Set("Content-Type", d.media)
	if d.packed == nil {
		if h.Set(HeaderAsset, "page.html"); coding != "" {
			h.Set(HeaderAsset, "page.html.gz")
			h.Set("Content-Encoding", "gzip")
		}
		if r.Method == http.MethodHead {
			h.Del(HeaderAsset)
		}
		w.WriteHeader(http.StatusOK)
		return nil
	}
	switch coding {
	case codingBrotli:
		body = br
	case codingGzip:
		body = d.packed
	default:
		body = d.text()
	}
	if coding != "" {
		h.Set("Content-Encoding", coding)
	}
	h.Set("Content-Length", strconv.Itoa(len(body)))
	if r.Method == http.MethodHead {
		w.WriteHeader(http.StatusOK)
		return nil
	}
	w.Write(body)
	return nil
}
