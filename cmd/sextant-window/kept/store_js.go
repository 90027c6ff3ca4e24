package kept

import (
	"errors"
	"fmt"
	"syscall/js"
)

const entry = "sextant.window"

// storage calls a method of the page's storage, which a browser may forbid altogether.
func storage(method string, args ...any) (result js.Value, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the browser's storage: %v", p)
		}
	}()
	store := js.Global().Get("localStorage")
	if store.IsUndefined() || store.IsNull() {
		return js.Undefined(), errors.New("the browser has no storage")
	}
	return store.Call(method, args...), nil
}

// read returns what is kept, nil where there is nothing or no storage.
func read() ([]byte, error) {
	text, err := storage("getItem", entry)
	if err != nil || text.Type() != js.TypeString {
		return nil, nil
	}
	return []byte(text.String()), nil
}

func write(text []byte) error {
	_, err := storage("setItem", entry, string(text))
	return err
}

// setAside renames what is kept out of the way and returns its new name.
func setAside() (string, error) {
	text, err := storage("getItem", entry)
	if err != nil {
		return "", err
	}
	if _, err := storage("setItem", entry+".bad", text); err != nil {
		return "", err
	}
	_, err = storage("removeItem", entry)
	return entry + ".bad in the browser's storage", err
}
