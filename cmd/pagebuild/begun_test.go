package main

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/tetratelabs/wazero/api"
)

// compiled builds a program of Go's for a browser out of the body of its main.
func compiled(t *testing.T, body string) []byte {
	t.Helper()
	dir := t.TempDir()
	source := "package main\n\nimport (\n\t\"syscall/js\"\n\t\"time\"\n)\n\nvar global = js.Global()\n\nvar _ = time.Sleep\n\nfunc main() {\n" + body + "\n}\n"
	for name, text := range map[string]string{"go.mod": "module begins\n\ngo 1.26\n", "main.go": source} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command("go", "build", "-o", "out.wasm", ".")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	program, err := os.ReadFile(filepath.Join(dir, "out.wasm"))
	if err != nil {
		t.Fatal(err)
	}
	if program, err = onePiece(program); err != nil {
		t.Fatal(err)
	}
	return program
}

// A program goes on from where it was: what it had worked out is there, the clock and what its host answers are those of the day.
func TestBegun(t *testing.T) {
	program := compiled(t, `
	shims, today := map[string]int{}, time.Now().Unix()
	for i, s := range []string{"0.05", "0.1", "0.25"} {
		shims[s] = i
	}
	object := global.Get("Object")
	time.Sleep(1)
	println("after", len(shims), shims["0.25"], today, time.Now().Unix(), object.Equal(global.Get("Object")), global.Get("today").Int())`)
	first, err := begun(program)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := begun(program); err != nil || string(again) != string(first) {
		t.Errorf("not the same program the second time: %v", err)
	}
	if !strings.Contains(string(first[:section(first, sectionCode).at]), `begun[[5,"Object"],`) {
		t.Error("what it asked for is not told before the code")
	}

	said, ended := "", errors.New("it has ended")
	later := (&host{}).functions()
	early := later["syscall/js.valueGet"]
	const null = nanHead | 2
	later["syscall/js.valueGet"] = func(m api.Module, sp uint32) {
		at, n := slice(m, sp+16)
		switch name, _ := m.Memory().Read(at, n); string(name) {
		case "_pendingEvent":
			m.Memory().WriteUint64Le(sp+32, null)
		case "today":
			m.Memory().WriteFloat64Le(sp+32, 29)
		default:
			early(m, sp)
		}
	}
	later["runtime.nanotime1"] = func(m api.Module, sp uint32) { m.Memory().WriteUint64Le(sp+8, 1_790_000_000e9) }
	later["runtime.walltime"] = func(m api.Module, sp uint32) {
		m.Memory().WriteUint64Le(sp+8, 1_790_000_000) // 2026
		m.Memory().WriteUint32Le(sp+16, 0)
	}
	later["runtime.clearTimeoutEvent"] = func(api.Module, uint32) {}
	later["runtime.wasmWrite"] = func(m api.Module, sp uint32) {
		at, _ := m.Memory().ReadUint64Le(sp + 16)
		n, _ := m.Memory().ReadUint32Le(sp + 24)
		text, _ := m.Memory().Read(uint32(at), n)
		said += string(text)
	}
	later["runtime.wasmExit"] = func(api.Module, uint32) { panic(ended) }
	err = inside(first, later, func(ctx context.Context, m api.Module) error {
		_, err := m.ExportedFunction("resume").Call(ctx)
		return err
	})
	if !errors.Is(err, ended) || said != "after 3 2 1000000 1790000000 true 29\n" {
		t.Errorf("%q, %v", said, err)
	}
}

// What is not the same in every browser is not asked for before the page is there.
func TestBegunRefuses(t *testing.T) {
	for body, want := range map[string]string{
		`println(global.Get("document").IsNull()); time.Sleep(1)`: `asks for "document"`,
		`global.Call("alert", 1); time.Sleep(1)`:                  "asks for syscall/js.value",
		`println(time.Now().Year()); time.Sleep(1)`:               `asks for "Date"`, // where the browser is
		`println(1)`: "says 1",
		`if len(js.Global().Get("Object").Type().String()) > 99 { return }`: "ends",
	} {
		if _, err := begun(compiled(t, body)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", body, err)
		}
	}
	for name, bad := range map[string][]byte{"no global variables": moduleOf(dataPiece{7, "shims"}), "nothing": nil} {
		if _, err := begun(bad); !errors.Is(err, errModule) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
