package scenario

import (
	"fmt"
	"strings"

	"sextant/inverter/si"
	"sextant/motor/drive"
)

// TOML returns s as a scenario file, which [Load] reads back to an equal scenario. Keys that say no more
// than their absence are left out. s is valid.
func TOML(s drive.Scenario) []byte {
	var b strings.Builder
	plain := blank()
	defaults := sections(&plain)
	for i, sec := range sections(&s) {
		var lines strings.Builder
		for j, e := range sec.keys {
			if e.write == always || e.write == ifSet && e.slot.text() != defaults[i].keys[j].slot.text() {
				fmt.Fprintf(&lines, "%s = %s\n", e.key, e.slot.text())
			}
		}
		if lines.Len() == 0 {
			continue
		}
		if sec.name == "run" {
			writeFaults(&b, s.Faults)
		}
		if sec.name != "" {
			fmt.Fprintf(&b, "\n[%s]\n", sec.name)
		}
		b.WriteString(lines.String())
	}
	return []byte(strings.TrimPrefix(b.String(), "\n"))
}

func writeFaults(b *strings.Builder, faults []drive.Fault) {
	for _, f := range faults {
		fmt.Fprintf(b, "\n[[fault]]\nkind = %q\n", f.Kind.String())
		switch {
		case f.Kind.OfSwitch():
			fmt.Fprintf(b, "at = %q\n", f.Switch)
		case f.Kind.OfPhase():
			fmt.Fprintf(b, "at = %q\n", f.Phase)
		}
		fmt.Fprintf(b, "time = %q\n", si.Time.Text(f.Time))
		if f.Until != 0 {
			fmt.Fprintf(b, "until = %q\n", si.Time.Text(f.Until))
		}
		if f.Kind.TakesValue() {
			fmt.Fprintf(b, "value = %s\n", quantity{&f.Value, f.Kind.Dimension()}.text())
		}
	}
}
