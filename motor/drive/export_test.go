package drive

// What tests of built-in scenarios and of files share with the tests inside; a file's reader imports this package, so
// they stand outside.
var (
	Simulated = simulate
	Watched   = watched
	Balance   = balance
	Near      = near
	Told      = told
)
