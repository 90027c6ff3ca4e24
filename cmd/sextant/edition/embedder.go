package edition

import (
	"fmt"
	"regexp"
)

var origin = regexp.MustCompile(`^https?://([a-z0-9-]+(\.[a-z0-9-]+)*|\[[0-9a-f:]+\])(:[0-9]{1,5})?$`)

// An Embedder is the origin of pages that may show the picture in a frame, like https://course.example:8443.
type Embedder string

// ParseEmbedder reads an origin: http or https, a host in lower case, perhaps a port, and no path.
func ParseEmbedder(text string) (Embedder, error) {
	if !origin.MatchString(text) {
		return "", fmt.Errorf("%q is not where a page comes from; give scheme and host in lower case, and no path, like https://course.example", text)
	}
	return Embedder(text), nil
}
