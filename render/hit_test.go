package render

import (
	"testing"

	"sextant/inverter"
)

func TestHitsAreWhatIsShown(t *testing.T) {
	for _, size := range sizes {
		l := Arrange(Everything, area(size[0], size[1]), 1)
		var all []Part
		for _, s := range inverter.Switches {
			all = append(all, Part{Kind: GatePart, Switch: s}, Part{Kind: DevicePart, Switch: s}, Part{Kind: DiodePart, Switch: s})
		}
		for _, p := range inverter.Phases {
			all = append(all, Part{Kind: WirePart, Phase: p})
		}
		for k := range inverter.Active {
			all = append(all, Part{Kind: CornerPart, Corner: k})
		}
		all = append(all, Part{Kind: SupplyPart}, Part{Kind: LinkPart}, Part{Kind: RotorPart}, Part{Kind: LanePart, Lane: CurrentLane})
		for _, part := range all {
			r, ok := l.Where(part)
			if !ok {
				t.Errorf("at %v %+v lies nowhere", size, part)
			}
			if got := l.At(r.Min.Add(r.Max).Scale(0.5)); got != part {
				t.Errorf("at %v the middle of %+v is taken for %+v", size, part, got)
			}
		}
	}
}
