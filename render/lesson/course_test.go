package lesson

import (
	"slices"
	"testing"
)

// The course has every built-in lesson once.
func TestCourseIsWhole(t *testing.T) {
	if got, want := slices.Sorted(slices.Values(Course())), Names(); !slices.Equal(got, slices.Sorted(slices.Values(want))) {
		t.Errorf("the course has %v, built in are %v", got, want)
	}
}
