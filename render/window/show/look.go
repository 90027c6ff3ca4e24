package show

import "sextant/render"

// textSizes are the choices of text scale.
var textSizes = [...]float64{1, 1.2, 1.45}

// TextScale returns the scale of all text.
func (s *Show) TextScale() float64 { return textSizes[s.text] }

// Focus returns which parts of the stage are shown.
func (s *Show) Focus() render.Focus { return s.focus }

// roomForAll is how many heights of a button a stage that is wider than tall must be wide for all of it to be read.
const roomForAll = 12

// LooksAt returns which parts of the stage are shown in a frame: on a small one, what is asked for in full would be too
// small to be read.
func (s *Show) LooksAt(f *Frame) render.Focus {
	switch {
	case s.focus != render.Everything || !f.small():
		return s.focus
	case s.panel == TapeLanes:
		return render.OnTape
	}
	return render.OnBridgeAndWheel
}

// small reports whether the stage is too small for all of it to be read: side by side on a phone held upright.
func (f *Frame) small() bool {
	area := f.Stage.Size()
	return area.X > 0.9*area.Y && area.X < roomForAll*f.cell
}

// StageText returns the scale of the stage's text in a frame.
func (s *Show) StageText(f *Frame) float64 {
	if f.small() {
		return textSizes[len(textSizes)-1]
	}
	return s.TextScale()
}

// SetFocus sets which parts of the stage are shown.
func (s *Show) SetFocus(f render.Focus) { s.focus, s.changed = f, true }

// SetTheme sets the theme.
func (s *Show) SetTheme(t render.Theme) { s.theme, s.changed = t, true }
