package job

import (
	"crypto/sha256"
	"encoding/hex"
	"strconv"
	"strings"

	"shimsheet/internal/words"
)

// A job in a file ends with its own length and checksum: `,"length":1234,"sha256":"…"}`, both of the text before that comma. So a byte that changed on
// the way is told, instead of read as a reading.

const (
	sealLength = `,"length":`
	sealDigest = `,"sha256":"`
	sealEnd    = `"}`
)

// Seal is the job as JSON with its length and checksum, as it goes into a file.
func (j *Job) Seal() ([]byte, error) {
	b, err := j.MarshalJSON()
	if err != nil {
		return nil, err
	}
	b = b[:len(b)-1]
	sum := sha256.Sum256(b)
	n := len(b)
	b = strconv.AppendInt(append(b, sealLength...), int64(n), 10)
	b = hex.AppendEncode(append(b, sealDigest...), sum[:])
	return append(b, sealEnd...), nil
}

// SealDigest is the checksum at the end of the text of a job that [Job.Seal] made, "" without one.
func SealDigest(text []byte) string {
	if s, ok := strings.CutSuffix(string(text), sealEnd); ok && len(s) > 2*sha256.Size && strings.HasSuffix(s[:len(s)-2*sha256.Size], sealDigest) {
		return s[len(s)-2*sha256.Size:]
	}
	return ""
}

// A Damage says that the text of a job is not what was saved.
type Damage struct{ text string }

// Error says what is damaged.
func (d *Damage) Error() string { return d.text }

// CheckSeal holds the text of a job against the length and the checksum at its end. sealed is false for a text without them, as earlier versions wrote it;
// a *[Damage] says that the text is not the one that was saved.
func CheckSeal(text string) (sealed bool, err error) {
	text = strings.TrimRight(text, " \t\r\n")
	tail := max(0, len(text)-140)
	i := strings.LastIndex(text[tail:], sealLength)
	k := strings.LastIndex(text[tail:], sealDigest)
	if i < 0 && k < 0 {
		if !strings.HasPrefix(strings.TrimLeft(text, "\ufeff \t\r\n"), "{") || strings.HasSuffix(text, "}") {
			return false, nil
		}
		return false, &Damage{words.ProblemJobCut.String()}
	}
	if i < 0 {
		return false, &Damage{words.ProblemJobDamaged.String()}
	}
	body, seal := text[:tail+i], text[tail+i+len(sealLength):]
	length, rest, _ := strings.Cut(seal, sealDigest)
	told, over, ended := strings.Cut(rest, sealEnd)
	n, err := strconv.Atoi(length)
	switch {
	case err != nil || !ended || over != "" || len(told) != 2*sha256.Size:
		return false, &Damage{words.ProblemJobDamaged.String()}
	case n != len(body):
		return false, &Damage{words.ProblemJobLength.Say(len(body), n)}
	}
	if sum := sha256.Sum256([]byte(body)); hex.EncodeToString(sum[:]) != told {
		return false, &Damage{words.ProblemJobDamaged.String()}
	}
	return true, nil
}

// OpenChecked is [Job.Open] of a text that is first held against its checksum, if it has one.
func (j *Job) OpenChecked(text string) (sealed bool, err error) {
	if sealed, err = CheckSeal(text); err != nil {
		return false, err
	}
	return sealed, j.Open(text)
}

// Where a job stands in a page.
const (
	pageJob    = `<script type="application/json" id="job">`
	pageJobEnd = `</script>`
	pageEnd    = `id="part-end"`

	pageManifest = `id="part-manifest"`
)

// JobInPage cuts the job out of a saved page. whole is false if the page is cut short behind it.
func JobInPage(page string) (job string, whole bool, err error) {
	_, rest, ok := strings.Cut(page, pageJob)
	if !ok {
		return "", false, words.Error(words.ProblemPageNoJob)
	}
	job, rest, ok = strings.Cut(rest, pageJobEnd)
	if !ok {
		return "", false, &Damage{words.ProblemPageCut.String()}
	}
	if job = strings.TrimSpace(job); job == "null" || job == "" {
		return "", false, words.Error(words.ProblemPageEmpty)
	}
	marked := strings.Contains(rest, pageEnd) || !strings.Contains(rest, pageManifest) // earlier versions had neither
	return job, marked && strings.Contains(rest, "</html>"), nil
}
