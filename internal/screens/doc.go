// Package screens has the page's screens as Go types: state in, HTML out, events in by name and value, an update out. It knows no browser, so a
// screen is tested like any other function.
//
// HTML is a type that cannot hold unescaped text: it comes from Text, from El and from drawings, and from nothing else. An element that a person can press, type
// into or choose from carries On(name, arg): when it is used, the screen's Event gets that name and argument with what the element holds. What the
// screen answers is an Update: regions (elements by their id) with new HTML, attributes, the element to go to, what to say, what to copy or save.
//
// A screen keeps what a person typed and chose in itself; what belongs to the job it asks of its host, a small interface that it states beside itself and
// that the page's program fulfils.
package screens
