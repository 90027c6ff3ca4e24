package edition

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"maps"
	"slices"
)

const workerName = "worker.js"

// name tells the worker that keeps the site which files it has, and a version that is new whenever one of them
// is.
func (f Files) name() error {
	sum := sha256.New()
	keep := []string{"./"}
	for _, name := range slices.Sorted(maps.Keys(f)) {
		sum.Write(f[name])
		if name != packedName && name != workerName && name != pageName {
			keep = append(keep, name)
		}
	}
	list, err := json.Marshal(keep)
	if err != nil {
		return err
	}
	f[workerName] = bytes.ReplaceAll(f[workerName], []byte(`"@files@"`), list)
	f[workerName] = bytes.ReplaceAll(f[workerName], []byte("@version@"), []byte(hex.EncodeToString(sum.Sum(nil)[:8])))
	return nil
}
