package mutants

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// A Planted is a package with a switch at each place where a fault can stand.
type Planted struct {
	Dir     string // of the package
	Overlay string // the file for `go test -overlay`
	Command bool   // it is a program
	Mutants []Mutant
}

// Plant reads the package in dir and writes, into tmp, its files with all mutants in them. The package's own files stay as they are.
func Plant(dir, tmp string) (*Planted, error) {
	p, err := load(dir)
	if err != nil {
		return nil, err
	}
	out := &Planted{Dir: p.dir, Command: p.name == "main"}
	replace := map[string]string{}
	for i, name := range p.names {
		w := writer{pkg: p, file: p.files[i], src: p.src[i], name: name, all: &out.Mutants, seen: map[string]int{}}
		w.walk()
		to := filepath.Join(tmp, name)
		if err := os.WriteFile(to, w.text(), 0o644); err != nil {
			return nil, err
		}
		replace[filepath.Join(p.dir, name)] = to
	}
	to := filepath.Join(tmp, "mutants_switch.go")
	if err := os.WriteFile(to, []byte(fmt.Sprintf(switches, p.name, len(out.Mutants)+1)), 0o644); err != nil {
		return nil, err
	}
	replace[filepath.Join(p.dir, "mutants_switch.go")] = to
	text, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return nil, err
	}
	out.Overlay = filepath.Join(tmp, "overlay.json")
	return out, os.WriteFile(out.Overlay, text, 0o644)
}

// A source is a package as it was parsed and type-checked.
type source struct {
	dir, name string
	fset      *token.FileSet
	names     []string
	src       [][]byte
	files     []*ast.File
	info      *types.Info
}

func load(dir string) (*source, error) {
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=Dir,Name,ImportPath,GoFiles,Export,DepOnly", ".")
	cmd.Dir = dir
	cmd.Stderr = os.Stderr
	text, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list %s: %w", dir, err)
	}
	type listed struct {
		Dir, Name, ImportPath, Export string
		GoFiles                       []string
		DepOnly                       bool
	}
	export := map[string]string{}
	var own listed
	for d := json.NewDecoder(bytes.NewReader(text)); d.More(); {
		var l listed
		if err := d.Decode(&l); err != nil {
			return nil, err
		}
		export[l.ImportPath] = l.Export
		if !l.DepOnly {
			own = l
		}
	}
	p := &source{dir: own.Dir, name: own.Name, fset: token.NewFileSet(), names: own.GoFiles}
	for _, name := range own.GoFiles {
		path := filepath.Join(own.Dir, name)
		src, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		f, err := parser.ParseFile(p.fset, path, src, parser.ParseComments)
		if err != nil {
			return nil, err
		}
		p.src = append(p.src, src)
		p.files = append(p.files, f)
	}
	p.info = &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Selections: map[*ast.SelectorExpr]*types.Selection{}, Uses: map[*ast.Ident]types.Object{}}
	imp := importer.ForCompiler(p.fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(export[path]) })
	_, err = (&types.Config{Importer: imp}).Check(own.ImportPath, p.fset, p.files, p.info)
	return p, err
}

// An edit puts text in the place of n bytes at off. Edits of one place stay in the order in which they were made.
type edit struct {
	off, n int
	text   string
}

// A writer makes one file's edits and its mutants.
type writer struct {
	pkg   *source
	file  *ast.File
	src   []byte
	name  string
	all   *[]Mutant
	seen  map[string]int
	fn    string
	stack []ast.Node
	edits []edit
}

func (w *writer) off(p token.Pos) int { return w.pkg.fset.Position(p).Offset }

func (w *writer) put(p token.Pos, n int, text string) {
	w.edits = append(w.edits, edit{w.off(p), n, text})
}

func (w *writer) raw(n ast.Node) string { return string(w.src[w.off(n.Pos()):w.off(n.End())]) }

// mutant enters one and returns its number, from 1.
func (w *writer) mutant(k Kind, n ast.Node) int {
	text := strings.Join(strings.Fields(w.raw(n)), " ")
	if len(text) > 70 {
		text = text[:70]
		for len(text) > 0 && text[len(text)-1] >= 0x80 {
			text = text[:len(text)-1]
		}
	}
	m := Mutant{Kind: k, File: w.name, Line: w.pkg.fset.Position(n.Pos()).Line, Func: w.fn, Text: text}
	same := fmt.Sprint(m.Func, m.Kind, m.Text)
	w.seen[same]++
	m.Nth = w.seen[same]
	*w.all = append(*w.all, m)
	return len(*w.all)
}

// walk visits the bodies of functions and the values of variables: what stands before a node is put there on the way down, what stands behind it on the
// way up, so that nested switches close in order.
func (w *writer) walk() {
	for _, d := range w.file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			w.fn = d.Name.Name
			if d.Recv != nil && len(d.Recv.List) == 1 {
				w.fn = strings.TrimPrefix(w.raw(d.Recv.List[0].Type), "*") + "." + w.fn
			}
			if d.Body != nil {
				w.node(d.Body)
			}
		case *ast.GenDecl:
			if d.Tok != token.VAR {
				continue
			}
			for _, s := range d.Specs {
				v := s.(*ast.ValueSpec)
				w.fn = "var " + v.Names[0].Name
				for _, x := range v.Values {
					w.node(x)
				}
			}
		}
	}
}

func (w *writer) node(n ast.Node) {
	ast.Inspect(n, func(n ast.Node) bool {
		if n == nil {
			top := w.stack[len(w.stack)-1]
			w.stack = w.stack[:len(w.stack)-1]
			w.leave(top)
			return false
		}
		if d, ok := n.(*ast.GenDecl); ok && d.Tok != token.VAR {
			return false
		}
		if x, ok := n.(ast.Expr); ok {
			tv := w.pkg.info.Types[x]
			if tv.IsType() {
				return false
			}
			if tv.Value != nil { // A constant has nothing inside that could be switched, but for its sign.
				w.constant(x, tv)
				return false
			}
		}
		w.enter(n)
		w.stack = append(w.stack, n)
		return true
	})
}

func (w *writer) constant(x ast.Expr, tv types.TypeAndValue) {
	u, ok := x.(*ast.UnaryExpr)
	if !ok || u.Op != token.SUB {
		return
	}
	b, ok := tv.Type.(*types.Basic)
	if !ok || b.Info()&types.IsUntyped != 0 || b.Info()&(types.IsInteger|types.IsFloat) == 0 {
		return
	}
	if c, ok := w.parent().(*ast.CaseClause); ok && slices.Contains(c.List, x) {
		return
	}
	w.put(x.Pos(), w.off(x.End())-w.off(x.Pos()), fmt.Sprintf("mutNeg(%d, %s(%s))", w.mutant(Sign, x), b.Name(), w.raw(u.X)))
}

func (w *writer) parent() ast.Node {
	if len(w.stack) == 0 {
		return nil
	}
	return w.stack[len(w.stack)-1]
}

var arith = map[token.Token]string{token.ADD: "mutAdd", token.SUB: "mutSub", token.MUL: "mutMul", token.QUO: "mutQuo", token.REM: "mutRem"}

var order = map[token.Token]string{token.LSS: "mutLss", token.LEQ: "mutLeq", token.GTR: "mutGtr", token.GEQ: "mutGeq"}

func (w *writer) isNumber(x ast.Expr) bool {
	b, ok := under(w.pkg.info.TypeOf(x))
	return ok && b.Info()&types.IsUntyped == 0 && b.Info()&(types.IsInteger|types.IsFloat) != 0
}

func under(t types.Type) (*types.Basic, bool) {
	if t == nil {
		return nil, false
	}
	if _, ok := t.(*types.TypeParam); ok {
		return nil, false
	}
	b, ok := t.Underlying().(*types.Basic)
	return b, ok
}

func (w *writer) isPlainBool(x ast.Expr) bool {
	b, ok := w.pkg.info.TypeOf(x).(*types.Basic)
	return ok && b.Info()&types.IsBoolean != 0
}

func (w *writer) enter(n ast.Node) {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		w.enterBinary(n)
	case *ast.UnaryExpr:
		if n.Op == token.SUB && w.isNumber(n.X) {
			w.put(n.Pos(), 1, fmt.Sprintf("mutNeg(%d, ", w.mutant(Sign, n)))
		}
	case *ast.IncDecStmt:
		if w.isNumber(n.X) {
			op := map[token.Token]string{token.INC: "+=", token.DEC: "-="}[n.Tok]
			w.put(n.TokPos, 2, fmt.Sprintf("%s mutOne(%d, %s)", op, w.mutant(IncDec, n), w.raw(n.X)))
		}
	case *ast.IfStmt:
		if n.Else == nil && w.isPlainBool(n.Cond) {
			w.put(n.Cond.Pos(), 0, fmt.Sprintf("!mutAt(%d) && (", w.mutant(Guard, n.Cond)))
		}
	case *ast.SelectorExpr:
		w.sibling(n)
	case ast.Stmt:
		if w.droppable(n) {
			w.put(n.Pos(), 0, fmt.Sprintf("if !mutAt(%d) { ", w.mutant(Dropped, n)))
		}
	}
}

func (w *writer) enterBinary(n *ast.BinaryExpr) {
	switch f, ok := order[n.Op]; {
	case ok:
		b, isBasic := under(w.pkg.info.TypeOf(n.X))
		if isBasic && b.Info()&types.IsOrdered != 0 && b.Info()&types.IsUntyped == 0 {
			w.put(n.Pos(), 0, fmt.Sprintf("(mutAt(%d) != %s(%d, ", w.mutant(Negation, n), f, w.mutant(Boundary, n)))
			w.put(n.OpPos, len(n.Op.String()), ", ")
		} else {
			w.put(n.Pos(), 0, fmt.Sprintf("(mutAt(%d) != (", w.mutant(Negation, n)))
		}
	case n.Op == token.EQL || n.Op == token.NEQ:
		w.put(n.Pos(), 0, fmt.Sprintf("(mutAt(%d) != (", w.mutant(Negation, n)))
	case n.Op == token.LAND || n.Op == token.LOR:
		if !w.isPlainBool(n.X) || !w.isPlainBool(n.Y) {
			return
		}
		f := map[token.Token]string{token.LAND: "mutAnd", token.LOR: "mutOr"}[n.Op]
		w.put(n.Pos(), 0, fmt.Sprintf("%s(%d, ", f, w.mutant(Logical, n)))
		w.put(n.OpPos, 2, ", func() bool { return (")
	default:
		if f, ok := arith[n.Op]; ok && w.isArith(n) {
			w.put(n.Pos(), 0, fmt.Sprintf("%s(%d, ", f, w.mutant(Arith, n)))
			w.put(n.OpPos, 1, ", ")
		}
	}
}

func (w *writer) isArith(n *ast.BinaryExpr) bool {
	return w.isNumber(n.X) && w.isNumber(n.Y) && w.isNumber(n)
}

func (w *writer) leave(n ast.Node) {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		_, ordered := order[n.Op]
		switch {
		case ordered || n.Op == token.EQL || n.Op == token.NEQ:
			w.put(n.End(), 0, "))")
		case n.Op == token.LAND || n.Op == token.LOR:
			if w.isPlainBool(n.X) && w.isPlainBool(n.Y) {
				w.put(n.End(), 0, ") })")
			}
		default:
			if _, ok := arith[n.Op]; ok && w.isArith(n) {
				w.put(n.End(), 0, ")")
			}
		}
	case *ast.UnaryExpr:
		if n.Op == token.SUB && w.isNumber(n.X) {
			w.put(n.End(), 0, ")")
		}
	case *ast.IfStmt: // Behind the condition, which ends before the body starts; edits are sorted by place.
		if n.Else == nil && w.isPlainBool(n.Cond) {
			w.put(n.Cond.End(), 0, ")")
		}
	case ast.Stmt:
		if w.droppable(n) {
			w.put(n.End(), 0, " }")
		}
	}
}

// droppable says whether a statement can be left out and the package still compiles: a call or an assignment, not a definition, in a list of statements.
// It is asked on the way down, when the parent is on top of the stack, and on the way up, when the statement itself has been taken off.
func (w *writer) droppable(n ast.Stmt) bool {
	switch w.parent().(type) {
	case *ast.BlockStmt, *ast.CaseClause, *ast.CommClause:
	default:
		return false
	}
	if c, ok := w.parent().(*ast.CommClause); ok && c.Comm == n {
		return false
	}
	switch n := n.(type) {
	case *ast.AssignStmt:
		blank := len(n.Lhs) == 1 && w.raw(n.Lhs[0]) == "_"
		return n.Tok != token.DEFINE && !blank
	case *ast.ExprStmt:
		c, ok := n.X.(*ast.CallExpr)
		if !ok {
			return false
		}
		f := w.raw(c.Fun)
		return f != "panic" && f != "os.Exit"
	}
	return false
}

// neighbours are fields that are easily taken for each other.
var neighbours = [][2]string{{"V", "H"}, {"Front", "Rear"}, {"Movable", "Stationary"}, {"Near", "Far"}, {"Left", "Right"}, {"Up", "Down"},
	{"Offset", "Slope"}, {"Min", "Max"}, {"X", "Y"}, {"Lo", "Hi"}, {"First", "Last"}, {"U", "Value"}, {"Sin", "Cos"}, {"Row", "Col"}}

// swapped returns the name with one of the neighbours' words exchanged for the other, every way that can be.
func swapped(name string) []string {
	var out []string
	for _, p := range neighbours {
		for _, d := range [][2]string{p, {p[1], p[0]}} {
			for i := 0; i+len(d[0]) <= len(name); i++ {
				end := i + len(d[0])
				whole := name[i:end] == d[0] && (end == len(name) || name[end] < 'a' || name[end] > 'z')
				if whole {
					out = append(out, name[:i]+d[1]+name[end:])
				}
				low := strings.ToLower(d[0])
				if i == 0 && strings.HasPrefix(name, low) && (len(low) == len(name) || name[len(low)] < 'a' || name[len(low)] > 'z') {
					out = append(out, strings.ToLower(d[1])+name[len(low):])
				}
			}
		}
	}
	return out
}

// sibling puts a switch between a field that is read and its neighbour of the same type, where reading it twice does nothing else.
func (w *writer) sibling(n *ast.SelectorExpr) {
	if !w.isRead(n) {
		return
	}
	if id, ok := n.X.(*ast.Ident); ok {
		if p, ok := w.pkg.info.Uses[id].(*types.PkgName); ok && p.Imported().Path() == "math" && (n.Sel.Name == "Sin" || n.Sel.Name == "Cos") {
			other := map[string]string{"Sin": "Cos", "Cos": "Sin"}[n.Sel.Name]
			w.put(n.Pos(), 0, fmt.Sprintf("mutPick(%d, %s.%s, ", w.mutant(Sibling, n), id.Name, other))
			w.put(n.End(), 0, ")")
			return
		}
	}
	sel := w.pkg.info.Selections[n]
	if sel == nil || sel.Kind() != types.FieldVal || !plain(n.X) {
		return
	}
	t := sel.Recv()
	for _, name := range swapped(n.Sel.Name) {
		o, _, _ := types.LookupFieldOrMethod(t, true, sel.Obj().Pkg(), name)
		v, ok := o.(*types.Var)
		if !ok || !v.IsField() || !types.Identical(v.Type(), sel.Obj().Type()) {
			continue
		}
		// The place is cut out whole, so nothing inside it may have switches of its own: plain has seen to it but for further siblings, which are left alone.
		w.put(n.Pos(), w.off(n.End())-w.off(n.Pos()), fmt.Sprintf("mutPick(%d, %s.%s, %s)", w.mutant(Sibling, n), w.raw(n.X), name, w.raw(n)))
		return
	}
}

// isRead says whether a selector's value is read: it is not assigned to, not counted up, its address is not taken, it is not called and nothing is selected, sliced or indexed from it.
func (w *writer) isRead(n *ast.SelectorExpr) bool {
	switch p := w.parent().(type) {
	case *ast.BinaryExpr, *ast.ReturnStmt, *ast.KeyValueExpr, *ast.ParenExpr, *ast.CompositeLit:
		if kv, ok := p.(*ast.KeyValueExpr); ok {
			return kv.Value == n
		}
		return true
	case *ast.UnaryExpr:
		return p.Op != token.AND && p.Op != token.ARROW
	case *ast.CallExpr:
		if p.Fun == n { // Of the calls only the sine and the cosine are exchanged.
			id, ok := n.X.(*ast.Ident)
			return ok && id.Name == "math"
		}
		return true
	case *ast.AssignStmt:
		return slices.Contains(p.Rhs, ast.Expr(n))
	}
	return false
}

// plain says whether an expression is a chain of names, which can be written twice.
func plain(x ast.Expr) bool {
	switch x := x.(type) {
	case *ast.Ident:
		return true
	case *ast.SelectorExpr:
		return plain(x.X)
	}
	return false
}

// text is the file with its edits.
func (w *writer) text() []byte {
	slices.SortStableFunc(w.edits, func(a, b edit) int {
		if a.off != b.off {
			return a.off - b.off
		}
		return min(a.n, 1) - min(b.n, 1) // What closes an operand comes before the operator behind it.
	})
	var out bytes.Buffer
	at := 0
	for _, e := range w.edits {
		if e.off < at { // Inside what was cut out.
			continue
		}
		out.Write(w.src[at:e.off])
		out.WriteString(e.text)
		at = e.off + e.n
	}
	out.Write(w.src[at:])
	return out.Bytes()
}

// switches is the file that is added to the package: which mutant is on, and which places were reached.
const switches = `package %s

import (
	mutCmp "cmp"
	mutOS "os"
	mutStrconv "strconv"
	mutSyscall "syscall"
)

const mutCount = %d

var mutActive, mutHits = mutStart()

func mutStart() (int, []byte) {
	n, _ := mutStrconv.Atoi(mutOS.Getenv("MUTANT"))
	name := mutOS.Getenv("MUTANT_HITS")
	if name == "" {
		return n, nil
	}
	f, err := mutOS.OpenFile(name, mutOS.O_RDWR, 0)
	if err != nil {
		panic(err)
	}
	defer f.Close()
	b, err := mutSyscall.Mmap(int(f.Fd()), 0, mutCount, mutSyscall.PROT_READ|mutSyscall.PROT_WRITE, mutSyscall.MAP_SHARED)
	if err != nil {
		panic(err)
	}
	return n, b
}

func mutAt(n int) bool {
	if mutHits != nil {
		mutHits[n] = 1
	}
	return n == mutActive
}

type mutNumber interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 | ~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~uintptr | ~float32 | ~float64
}

type mutInteger interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 | ~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~uintptr
}

func mutAdd[T mutNumber](n int, x, y T) T { if mutAt(n) { return x - y }; return x + y }
func mutSub[T mutNumber](n int, x, y T) T { if mutAt(n) { return x + y }; return x - y }
func mutMul[T mutNumber](n int, x, y T) T { if mutAt(n) { return x / y }; return x * y }
func mutQuo[T mutNumber](n int, x, y T) T { if mutAt(n) { return x * y }; return x / y }
func mutRem[T mutInteger](n int, x, y T) T { if mutAt(n) { return x * y }; return x %% y }
func mutNeg[T mutNumber](n int, x T) T { if mutAt(n) { return x }; return -x }
func mutOne[T mutNumber](n int, _ T) T { one := T(1); if mutAt(n) { return -one }; return one }
func mutLss[T mutCmp.Ordered](n int, x, y T) bool { if mutAt(n) { return x <= y }; return x < y }
func mutLeq[T mutCmp.Ordered](n int, x, y T) bool { if mutAt(n) { return x < y }; return x <= y }
func mutGtr[T mutCmp.Ordered](n int, x, y T) bool { if mutAt(n) { return x >= y }; return x > y }
func mutGeq[T mutCmp.Ordered](n int, x, y T) bool { if mutAt(n) { return x > y }; return x >= y }
func mutAnd(n int, x bool, y func() bool) bool { if mutAt(n) { return x || y() }; return x && y() }
func mutOr(n int, x bool, y func() bool) bool { if mutAt(n) { return x && y() }; return x || y() }
func mutPick[T any](n int, other, x T) T { if mutAt(n) { return other }; return x }
`
