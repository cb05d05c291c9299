package desk

import (
	"strconv"

	"shimsheet/internal/screens"
)

func init() { operations["screen"] = operation{"tt?ttttt", opScreen} }

// opScreen asks a screen as [Desk.Screen] does, and writes its answer as JSON, which tests look into: its name and what happened; "event" is followed by name, argument, kind, value, key, the
// others by the width of the screen in pixels.
func opScreen(d *Desk, in *arguments) raw {
	name, what, width := in.text(), in.text(), 0
	var e screens.Event
	if what != "event" && in.more() {
		width, _ = strconv.Atoi(in.text())
	} else if what == "event" {
		if len(in.in) < 7 {
			return failure("An event has a name, an argument, a kind, a value and a key.")
		}
		e = screens.Event{Name: in.text(), Arg: in.text(), Kind: in.text(), Value: in.text(), Key: in.text()}
	}
	if d.screen(name) == nil {
		return failure("no screen " + name)
	}
	u, err := d.Screen(name, what, width, e)
	if p, panicked := err.(*Panic); panicked {
		panic(p.Why)
	}
	if err != nil {
		return failure(err.Error())
	}
	return updateObject(&u).end()
}

// updateObject leaves out what an update does not hold.
func updateObject(u *screens.Update) *object {
	o := new(object)
	var regions, attributes, values [][]string
	for _, r := range u.Regions {
		regions = append(regions, []string{r.ID, r.Content.String()})
	}
	for _, t := range u.Attributes {
		if t.Off {
			attributes = append(attributes, []string{t.ID, t.Name})
		} else {
			attributes = append(attributes, []string{t.ID, t.Name, t.Value})
		}
	}
	for _, v := range u.Values {
		values = append(values, []string{v.ID, v.Text})
	}
	o.rows("regions", regions).rows("attributes", attributes).rows("values", values)
	for _, t := range [...][2]string{{"focus", u.Focus}, {"say", u.Say}, {"open", u.Open}, {"dialog", u.Dialog}, {"soon", u.Soon}, {"share", u.Share},
		{"reveal", u.Reveal}, {"read", u.Read}, {"finger", u.Finger}, {"paste", u.Paste}, {"window", u.Window}, {"remember", u.Remember}} {
		if t[1] != "" {
			o.text(t[0], t[1])
		}
	}
	for _, t := range [...]struct {
		key string
		yes bool
	}{{"top", u.Top}, {"sheetTop", u.SheetTop}, {"pass", u.Pass}, {"centre", u.Centre}, {"select", u.Select}, {"sheet", u.Sheet}, {"unshare", u.Unshare}, {"changed", u.Changed}, {"print", u.Print}} {
		if t.yes {
			o.yes(t.key, true)
		}
	}
	if u.Soon != "" {
		o.int("soonIn", u.SoonIn)
	}
	if u.Reread != nil {
		o.key("reread")
		o.b = append(o.b, ChoicesJSON(u.Reread)...)
	}
	if u.Offer != nil {
		o.texts("offer", []string{u.Offer.Label, u.Offer.Event})
	}
	if u.Place != nil {
		o.ints("place", []int{u.Place.Sheet, u.Place.Row, u.Place.Col})
	}
	if u.Copy != nil {
		o.texts("copy", []string{u.Copy.Text, u.Copy.HTML})
	}
	if u.File != nil {
		o.texts("file", []string{u.File.Name, u.File.Type, u.File.Text, u.File.Ending})
	}
	return o
}
