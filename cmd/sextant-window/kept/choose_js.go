package kept

import (
	"errors"
	"fmt"
	"syscall/js"

	"sextant/inverter/file"
)

// chosen is a file that the user picked.
type chosen struct {
	name string
	data []byte
	err  error
}

// Choose has the browser ask the user for a file. Browsers allow it to what the user does, and a finger has done
// something only once it is lifted.
func (f *Files) Choose() {
	if f.picker.IsUndefined() {
		f.picker = js.Global().Get("document").Call("createElement", "input")
		f.picker.Set("type", "file")
		back := js.FuncOf(func(js.Value, []js.Value) any {
			if picked := f.picker.Get("files").Index(0); picked.Truthy() {
				f.take(picked)
			}
			f.picker.Set("value", "") // so that the same file can be picked again
			if canvas := js.Global().Get("document").Call("querySelector", "canvas"); canvas.Truthy() {
				canvas.Call("focus") // which the dialog took from it
			}
			return nil
		})
		f.picker.Call("addEventListener", "change", back)
		f.picker.Call("addEventListener", "cancel", back)
	}
	ask := js.FuncOf(func(js.Value, []js.Value) any {
		f.picker.Call("click")
		return nil
	})
	if active := js.Global().Get("navigator").Get("userActivation"); active.Truthy() && !active.Get("isActive").Bool() {
		js.Global().Call("addEventListener", "touchend", ask, map[string]any{"once": true, "capture": true})
		return
	}
	ask.Invoke()
}

// take reads a file that was picked.
func (f *Files) take(picked js.Value) {
	name := picked.Get("name").String()
	done := func(data []byte, err error) { f.chosen = append(f.chosen, chosen{name, data, err}) }
	if picked.Get("size").Int() > file.MostBytes {
		done(nil, fmt.Errorf("is longer than %d MiB, more than any such file needs", file.MostBytes>>20))
		return
	}
	picked.Call("arrayBuffer").Call("then",
		js.FuncOf(func(_ js.Value, args []js.Value) any {
			content := js.Global().Get("Uint8Array").New(args[0])
			data := make([]byte, content.Length())
			js.CopyBytesToGo(data, content)
			done(data, nil)
			return nil
		}),
		js.FuncOf(func(js.Value, []js.Value) any {
			done(nil, errors.New("cannot be read; is it still there?"))
			return nil
		}))
}

// Chosen returns a file that was picked since it was last asked, or why it cannot be read.
func (f *Files) Chosen() (name string, data []byte, ok bool, err error) {
	if len(f.chosen) == 0 {
		return "", nil, false, nil
	}
	c := f.chosen[0]
	f.chosen = f.chosen[1:]
	return c.name, c.data, true, c.err
}
