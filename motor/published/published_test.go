package published_test

import (
	"math"
	"strings"
	"testing"

	"sextant/motor/published"
)

// Every figure that is published is met; no tolerance is so wide that a wrong formula would pass.
func TestChecks(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range published.Checks() {
		a, err := c.Answer()
		if err != nil {
			t.Error(err)
			continue
		}
		if !a.Agrees {
			t.Errorf("%s: %s: %.8g, published %.8g within %.2g", c.Field, c.Quantity, a.Ours, a.Published, a.Tolerance)
		}
		if a.Tolerance > 0.02*math.Abs(a.Published) {
			t.Errorf("%s: %s: a tolerance of %g of %g tells nothing", c.Field, c.Quantity, a.Tolerance, a.Published)
		}
		if (c.Within == 0) != (c.Because == "") {
			t.Errorf("%s: %s: a tolerance other than the printing's wants a reason", c.Field, c.Quantity)
		}
		id := c.Field + c.Case + c.Quantity
		if seen[id] || c.Case == "" || c.Quantity == "" || c.Source == nil || strings.Contains(c.Quantity, "\n") {
			t.Errorf("%+v", c)
		}
		seen[id] = true
	}
	if len(seen) < 30 {
		t.Errorf("%d checks", len(seen))
	}
	t.Logf("%d checks", len(seen))
}
