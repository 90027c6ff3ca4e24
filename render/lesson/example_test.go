package lesson_test

import (
	"fmt"

	"sextant/render/lesson"
)

// A lesson of one scene: the words hold a figure of the run, and the run knows which answer is right.
func ExampleLoad() {
	l, err := lesson.Load("coils.toml", []byte(`
title = "Coils"
about = "A current follows its voltage late."
[[scene]]
title = "Six-step into coils"
scenario = "passive-rl"
caption = "The supply gives {supply.current_mean_a} in the mean."
[[scene.question]]
ask = "What becomes of its power?"
because = "coils without a magnet turn nothing"
choice = [
  { say = "heat", when = "machine.shaft_power_w ~ 0" },
  { say = "torque", when = "machine.torque_mean_nm > 1" },
]
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	p := lesson.New(l)
	fmt.Println(p.Moment().Words)
	p.Next()
	v, err := p.Answer("2")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(v.Right, v.Correct)
	// Output:
	// The supply gives 4.22 A in the mean.
	// false heat
}
