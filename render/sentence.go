package render

import (
	"fmt"

	"sextant/motor/drive"
)

// Sentence says in plain words with numbers what happens now. s may be nil.
func Sentence(now *drive.Instant, s *drive.Scenario) string {
	return fmt.Sprintf("%v are on.", now.Gates)
}
