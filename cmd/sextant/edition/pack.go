package edition

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"os"
)

// pack writes the file from, compressed, to the file to.
func pack(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.Create(to)
	if err != nil {
		return err
	}
	z, err := gzip.NewWriterLevel(out, gzip.BestCompression)
	if err == nil {
		_, err = io.Copy(z, in)
		err = errors.Join(err, z.Close())
	}
	return errors.Join(err, out.Close())
}

func unpack(data []byte) ([]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(z)
}
