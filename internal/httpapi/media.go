package httpapi

import (
	"mime"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/words"
)

// The types of bodies.
const (
	mediaJSON    = "application/json"
	mediaNDJSON  = "application/x-ndjson"
	mediaCSV     = "text/csv"
	mediaTSV     = "text/tab-separated-values"
	mediaXLSX    = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
	mediaText    = "text/plain"
	mediaHTML    = "text/html"
	mediaProblem = "application/problem+json"
)

// spellings are other names for a type that are read as it.
var spellings = map[string]string{"application/ndjson": mediaNDJSON, "application/jsonl": mediaNDJSON, "application/jsonlines": mediaNDJSON, "application/x-jsonlines": mediaNDJSON,
	"application/json-lines": mediaNDJSON, "application/csv": mediaCSV, "text/tsv": mediaTSV}

// canonical is the type as it is known here.
func canonical(media string) string {
	if c, ok := spellings[media]; ok {
		return c
	}
	return media
}

// bodyType is the type of the body, one of want.
func bodyType(r *http.Request, want []string) (string, *problem) {
	if list := r.Header["Content-Type"]; len(list) == 1 && r.Header["Content-Encoding"] == nil && slices.Contains(want, list[0]) {
		return list[0], nil
	}
	hint := words.HttpSendOneOf.Say(strings.Join(want, ", "))
	if enc := strings.Join(r.Header.Values("Content-Encoding"), ","); enc != "" && !strings.EqualFold(enc, "identity") {
		return "", failure(kindMediaType, words.HttpPackedAs.Say(shorten(enc)), words.HttpSendAsIs.String())
	}
	text := strings.Join(r.Header.Values("Content-Type"), ",")
	if text == "" {
		return "", failure(kindMediaType, words.HttpNoType.String(), words.HttpWithType.Say(hint))
	}
	media, params, err := mime.ParseMediaType(text)
	if err != nil {
		return "", failure(kindMediaType, words.HttpBadType.Say(strconv.Quote(shorten(text))), hint)
	}
	media = canonical(media)
	found := false
	for _, m := range want {
		found = found || m == media
	}
	if !found {
		return "", failure(kindMediaType, words.HttpBodyIs.Say(shorten(media)), hint)
	}
	if set := params["charset"]; set != "" && !strings.EqualFold(set, "utf-8") && !strings.EqualFold(set, "us-ascii") {
		return "", failure(kindMediaType, words.HttpOtherCharset.Say(shorten(set)), words.HttpSendUTF8.String())
	}
	return media, nil
}

// accepted is the first of the types on offer that the request wants most. A request that does not say takes the first.
func accepted(r *http.Request, offers []string) (string, *problem) {
	text := strings.Join(r.Header.Values("Accept"), ",")
	if strings.TrimSpace(text) == "" {
		return offers[0], nil
	}
	best, most := "", 0.0
	for _, offer := range offers {
		q, exact := 0.0, -1
		for part := range strings.SplitSeq(text, ",") {
			name, rest, _ := strings.Cut(part, ";")
			name = canonical(strings.ToLower(strings.TrimSpace(name)))
			group, _, _ := strings.Cut(offer, "/")
			rank := -1
			switch name {
			case offer:
				rank = 2
			case group + "/*":
				rank = 1
			case "*/*", "*":
				rank = 0
			}
			if rank > exact {
				q, exact = quality(rest), rank
			}
		}
		if q > most {
			best, most = offer, q
		}
	}
	if best == "" {
		return "", failure(kindAccept, words.HttpAccepts.Say(shorten(text)), words.HttpAcceptOneOf.Say(strings.Join(offers, ", ")))
	}
	return best, nil
}

// quality is the weight among the parameters of a range; 1 where none is given, 0 where it cannot be read.
func quality(params string) float64 {
	for p := range strings.SplitSeq(params, ";") {
		k, v, ok := strings.Cut(strings.TrimSpace(p), "=")
		if ok && strings.EqualFold(strings.TrimSpace(k), "q") {
			q, err := strconv.ParseFloat(strings.TrimSpace(v), 64)
			if err != nil || !(q >= 0 && q <= 1) {
				return 0
			}
			return q
		}
	}
	return 1
}

// How an answer may be packed.
const (
	codingGzip   = "gzip"
	codingBrotli = "br"
)

// packing is how the client wants the answer packed most, of those that there are, brotli before gzip where it likes both alike; "" as it is.
func packing(r *http.Request, brotli bool) string {
	br, gz, star := -1.0, -1.0, 0.0
	for part := range strings.SplitSeq(strings.Join(r.Header.Values("Accept-Encoding"), ","), ",") {
		name, rest, _ := strings.Cut(part, ";")
		switch strings.ToLower(strings.TrimSpace(name)) {
		case codingBrotli:
			br = quality(rest)
		case codingGzip, "x-gzip":
			gz = quality(rest)
		case "*":
			star = quality(rest)
		}
	}
	if gz < 0 {
		gz = star
	}
	if br < 0 {
		br = star
	}
	switch {
	case brotli && br > 0 && br >= gz:
		return codingBrotli
	case gz > 0:
		return codingGzip
	}
	return ""
}
