// Package lesson reads and plays lessons: scenes with a scenario, words, and questions.
//
// A lesson types no result. Figures in its words, and which answer to a question is right, are computed from a
// run of the scene's scenario when the lesson is read, so that they hold for the machine that it shows.
package lesson
