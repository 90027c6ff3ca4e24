package window

import "time"

// rest does nothing: a browser calls when it has time.
func (g *game) rest(time.Time) {}
