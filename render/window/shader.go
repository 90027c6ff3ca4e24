package window

import (
	"sync"

	"github.com/hajimehoshi/ebiten/v2"
)

// What the hardware does at each pixel of a mesh. A letter that is not turned has its pixels on those of the
// picture; one that is turned is smoothed between four of the page's.
var (
	crisp = sync.OnceValue(func() *ebiten.Shader {
		return shader(`
func letter(src vec2) float { return imageSrc0UnsafeAt(src).a }
`)
	})
	soft = sync.OnceValue(func() *ebiten.Shader {
		return shader(`
func letter(src vec2) float {
	part := fract(src - 0.5)
	at := src - part
	above := mix(imageSrc0UnsafeAt(at).a, imageSrc0UnsafeAt(at+vec2(1, 0)).a, part.x)
	below := mix(imageSrc0UnsafeAt(at+vec2(0, 1)).a, imageSrc0UnsafeAt(at+vec2(1, 1)).a, part.x)
	return mix(above, below, part.y)
}
`)
	})
)

// shader compiles what says how a letter is looked up. How far a pixel is covered is said at [mesh.Vertex].
func shader(letter string) *ebiten.Shader {
	s, err := ebiten.NewShader([]byte(`//kage:unit pixels

package main
` + letter + `
func Fragment(dst vec4, src vec2, color vec4, custom vec4) vec4 {
	return vec4(color.rgb, 1) * (color.a * letter(src) * clamp(custom.y-abs(custom.x), 0, 1))
}
`))
	if err != nil {
		panic("window: a shader of ours does not compile: " + err.Error())
	}
	return s
}
