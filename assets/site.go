package assets

import "embed"

// Site holds the page of the browser edition, under site/.
//
//go:embed site
var Site embed.FS
