// Mutate asks how much of a package's behaviour its tests hold fast. It changes one operator or number of the package at a time,
// a sample of all such changes drawn by a seed, builds the package's tests with it, and expects them to fail. Changes that they
// let pass are listed: each is a hole in the tests, or makes no difference.
//
// Nothing in the tree is written: the changed file is laid over it (go build -overlay). Changes that do not compile do not count.
// A bound is moved (< to <=) between integers alone, since hardly any run of a drive puts a float on it, and numbers below
// 0.001 are left, being how near is near enough. Gremlins 0.6.0, otherwise fit, counts what does not compile as found, and
// draws no samples.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"hash/fnv"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

func main() {
	n := flag.Int("n", 60, "changes tried in each package; 0 tries all")
	seed := flag.Uint64("seed", 1, "of the sample")
	all := flag.Bool("v", false, "list the changes that are found, too")
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "Usage: .ci/mutate [-n N] [-seed N] [-v] PACKAGE...")
		flag.PrintDefaults()
	}
	flag.Parse()
	if flag.NArg() == 0 {
		flag.Usage()
		os.Exit(2)
	}
	for _, path := range flag.Args() {
		if err := mutate(path, *n, *seed, *all); err != nil {
			fmt.Fprintln(os.Stderr, "mutate:", err)
			os.Exit(1)
		}
	}
}

func mutate(path string, n int, seed uint64, all bool) error {
	p, err := load(path)
	if err != nil {
		return err
	}
	changes := p.changes()
	hash := fnv.New64a()
	io.WriteString(hash, p.ImportPath)
	rng := rand.New(rand.NewPCG(seed, hash.Sum64()))
	rng.Shuffle(len(changes), func(i, j int) { changes[i], changes[j] = changes[j], changes[i] })

	dir, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	b := bench{pkg: p, dir: dir, cpu: time.Hour, wall: time.Hour}
	begin := time.Now()
	r, cpu, err := b.try(nil)
	if err == nil && r != lived {
		err = fmt.Errorf("the tests of %s fail as they are", p.ImportPath)
	}
	if err != nil {
		return err
	}
	// On a busy machine the same work may take much longer, so that only tests that wait are measured by the clock.
	b.cpu, b.wall = 3*cpu+5*time.Second, 20*time.Since(begin)+time.Minute

	count := map[result]int{}
	tried := func() int { return count[killed] + count[hung] + count[lived] }
	for _, c := range changes {
		if n > 0 && tried() == n {
			break
		}
		r, _, err := b.try(&c)
		if err != nil {
			return err
		}
		count[r]++
		if r == lived || all {
			fmt.Printf("%s: %s %v as %s\n", p.at(c.pos), c.old, r, c.new)
		}
	}
	fmt.Printf("%s: of %d changes (of %d) the tests find %d, %d of them by never ending: %.0f %%\n", p.ImportPath,
		tried(), len(changes), count[killed]+count[hung], count[hung],
		100*float64(count[killed]+count[hung])/math.Max(1, float64(tried())))
	return nil
}

// pkg is a package with its types.
type pkg struct {
	ImportPath, Dir                    string
	GoFiles, TestImports, XTestImports []string

	fset  *token.FileSet
	files []*ast.File
	info  types.Info
}

func load(path string) (*pkg, error) {
	out, err := exec.Command("go", "list", "-json", path).Output()
	if err != nil {
		return nil, said("go list "+path, err)
	}
	p := &pkg{fset: token.NewFileSet(), info: types.Info{Types: map[ast.Expr]types.TypeAndValue{}}}
	if err := json.Unmarshal(out, p); err != nil {
		return nil, err
	}
	for _, name := range p.GoFiles {
		f, err := parser.ParseFile(p.fset, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		p.files = append(p.files, f)
	}
	out, err = exec.Command("go", "list", "-export", "-deps", "-f", "{{.ImportPath}} {{.Export}}", path).Output()
	if err != nil {
		return nil, said("go list -export "+path, err)
	}
	exports := map[string]string{}
	for line := range strings.Lines(string(out)) {
		if path, file, ok := strings.Cut(strings.TrimSpace(line), " "); ok {
			exports[path] = file
		}
	}
	conf := types.Config{Importer: importer.ForCompiler(p.fset, "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(exports[path])
	})}
	_, err = conf.Check(p.ImportPath, p.fset, p.files, &p.info)
	return p, err
}

func said(what string, err error) error {
	if exit := (*exec.ExitError)(nil); errors.As(err, &exit) {
		return fmt.Errorf("%s: %s", what, bytes.TrimSpace(exit.Stderr))
	}
	return fmt.Errorf("%s: %w", what, err)
}

func (p *pkg) at(pos token.Pos) string {
	at := p.fset.Position(pos)
	if wd, err := os.Getwd(); err == nil {
		if rel, err := filepath.Rel(wd, at.Filename); err == nil {
			at.Filename = rel
		}
	}
	return at.String()
}

// change is one thing to be tried: new in the place of old.
type change struct {
	pos      token.Pos
	old, new string
}

var flipped = map[token.Token]string{
	token.EQL: "!=", token.NEQ: "==", token.LSS: ">=", token.GEQ: "<", token.GTR: "<=", token.LEQ: ">",
	token.LAND: "||", token.LOR: "&&",
	token.ADD: "-", token.SUB: "+", token.MUL: "/", token.QUO: "*", token.REM: "*",
	token.AND: "|", token.OR: "&", token.XOR: "&", token.SHL: ">>", token.SHR: "<<",
	token.ADD_ASSIGN: "-=", token.SUB_ASSIGN: "+=", token.MUL_ASSIGN: "/=", token.QUO_ASSIGN: "*=",
	token.INC: "--", token.DEC: "++",
}

var moved = map[token.Token]string{token.LSS: "<=", token.LEQ: "<", token.GTR: ">=", token.GEQ: ">"}

// changes lists all that can be changed, in the order of the source.
func (p *pkg) changes() []change {
	var all []change
	add := func(pos token.Pos, old, new string) { all = append(all, change{pos, old, new}) }
	for _, f := range p.files {
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.BinaryExpr:
				if to, ok := flipped[n.Op]; ok && !(n.Op == token.ADD && p.is(n.X, types.IsString)) {
					add(n.OpPos, n.Op.String(), to)
				}
				if to, ok := moved[n.Op]; ok && p.is(n.X, types.IsInteger) {
					add(n.OpPos, n.Op.String(), to)
				}
			case *ast.AssignStmt:
				if to, ok := flipped[n.Tok]; ok && !p.is(n.Lhs[0], types.IsString) {
					add(n.TokPos, n.Tok.String(), to)
				}
			case *ast.IncDecStmt:
				add(n.TokPos, n.Tok.String(), flipped[n.Tok])
			case *ast.UnaryExpr:
				switch n.Op {
				case token.SUB:
					add(n.OpPos, "-", "+")
				case token.NOT:
					add(n.OpPos, "!", "")
				}
			case *ast.BasicLit:
				switch v, err := strconv.ParseFloat(n.Value, 64); {
				case err != nil:
				case n.Kind == token.INT:
					add(n.Pos(), n.Value, "("+n.Value+"+1)")
				case n.Kind == token.FLOAT && v >= 0.001:
					add(n.Pos(), n.Value, "("+n.Value+"*2)")
				}
			}
			return true
		})
	}
	return all
}

func (p *pkg) is(e ast.Expr, kind types.BasicInfo) bool {
	t := p.info.TypeOf(e)
	if t == nil {
		return false
	}
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&kind != 0
}

// bench builds and runs the tests of a package with changes laid over it.
type bench struct {
	*pkg
	dir       string
	cpu, wall time.Duration // up to which the tests may run
}

// result is what became of a change.
type result int

const (
	killed  result = iota // a test failed
	hung                  // the tests did not end
	lived                 // the tests passed
	refused               // it does not compile
)

func (r result) String() string { return [...]string{"dies", "hangs", "lives", "is refused"}[r] }

// try builds the tests with a change, or as they are, and runs them.
func (b *bench) try(c *change) (r result, cpu time.Duration, err error) {
	program := filepath.Join(b.dir, "tests")
	args := []string{"test", "-c", "-o", program}
	if c != nil {
		overlay, err := b.overlay(*c)
		if err != nil {
			return 0, 0, err
		}
		args = append(args, "-overlay", overlay)
	}
	if exec.Command("go", append(args, b.ImportPath)...).Run() != nil {
		return refused, 0, nil
	}
	args = []string{"-test.failfast", "-test.timeout", b.wall.String()}
	if slices.Contains(slices.Concat(b.TestImports, b.XTestImports), "pgregory.net/rapid") {
		args = append(args, "-rapid.nofailfile")
	}
	// Memory is bounded too, since a loop that never ends may take ever more of it.
	limits := fmt.Sprintf(`ulimit -v 16000000 -t %.0f; exec "$0" "$@"`, b.cpu.Seconds())
	run := exec.Command("bash", append([]string{"-c", limits, program}, args...)...)
	run.Dir = b.Dir
	out, err := run.CombinedOutput()
	if run.ProcessState == nil {
		return 0, 0, err
	}
	cpu = run.ProcessState.UserTime() + run.ProcessState.SystemTime()
	switch {
	case err == nil:
		return lived, cpu, nil
	case cpu >= b.cpu, bytes.Contains(out, []byte("panic: test timed out")):
		return hung, cpu, nil
	}
	return killed, cpu, nil
}

// overlay writes the changed file and what says where it lies, and returns the name of the latter.
func (b *bench) overlay(c change) (string, error) {
	at := b.fset.Position(c.pos)
	src, err := os.ReadFile(at.Filename)
	if err != nil {
		return "", err
	}
	src = slices.Concat(src[:at.Offset], []byte(" "+c.new+" "), src[at.Offset+len(c.old):])
	file, list := filepath.Join(b.dir, "changed.go"), filepath.Join(b.dir, "overlay.json")
	text, err := json.Marshal(map[string]map[string]string{"Replace": {at.Filename: file}})
	return list, errors.Join(err, os.WriteFile(file, src, 0o600), os.WriteFile(list, text, 0o600))
}
