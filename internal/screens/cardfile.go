package screens

import (
	_ "embed"

	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// cardsCSS is the style of cards; cmd/pagebuild puts it into the page, too.
//
//go:embed cards.css
var cardsCSS string

// CardsFile is a file of its own with the cards of rows, which asks for nothing and runs nothing.
func CardsFile(ev *sentences.Teller, rows []int, paper string) string {
	title := ev.Setting("name")
	if title == "" {
		title = words.Text("listPaper.noName")
	}
	return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>` + Text(title).String() + `</title>
<style>
body { font-family: system-ui, "Segoe UI", Roboto, "Liberation Sans", Arial, sans-serif; margin: 0; }
` + cardsCSS + `</style>
</head>
<body>
` + CardPages(ev, rows, paper).String() + `
</body>
</html>
`
}
