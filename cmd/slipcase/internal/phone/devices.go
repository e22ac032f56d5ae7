package phone

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// Device is a phone that was paired.
type Device struct {
	Name     string    `json:"name"` // unique, for revoking
	PairedAt time.Time `json:"paired_at"`
	Hash     string    `json:"sha256"` // of what its cookie holds
}

// Devices are the phones paired with a logbook, kept in a file of the user's own and not in
// the logbook, which is copied and lent.
type Devices struct{ path string }

// DevicesOf are those of the logbook in a folder; dir is where the program keeps its settings.
func DevicesOf(dir, logbook string) (Devices, error) {
	abs, err := filepath.Abs(logbook)
	if err != nil {
		return Devices{}, err
	}
	sum := sha256.Sum256([]byte(abs))
	return Devices{filepath.Join(dir, "devices-"+hex.EncodeToString(sum[:8])+".json")}, nil
}

// ErrNoDevice is wrapped when no paired phone has the name.
var ErrNoDevice = errors.New("no phone of that name is paired")

// List reads them, the first paired first.
func (d Devices) List() (list []Device, err error) {
	data, err := os.ReadFile(d.path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(data, &list); err != nil {
		return nil, fmt.Errorf("%s: %w", d.path, err)
	}
	return list, nil
}

// Revoke forgets a phone: it has to be paired again.
func (d Devices) Revoke(name string) error {
	list, err := d.List()
	if err != nil {
		return err
	}
	kept := slices.DeleteFunc(slices.Clone(list), func(dev Device) bool { return strings.EqualFold(dev.Name, name) })
	if len(kept) == len(list) {
		return fmt.Errorf("%q: %w", name, ErrNoDevice)
	}
	return d.write(kept)
}

// mostDevices is more phones than a team has.
const mostDevices = 64

// add pairs a phone and returns what its cookie is to hold.
func (d Devices) add(name string, now time.Time) (secret string, err error) {
	list, err := d.List()
	if err != nil {
		return "", err
	}
	if len(list) >= mostDevices {
		return "", fmt.Errorf("%d phones are paired: slipcase serve devices revoke takes one out", len(list))
	}
	unique := name
	for n := 2; slices.ContainsFunc(list, func(dev Device) bool { return strings.EqualFold(dev.Name, unique) }); n++ {
		unique = fmt.Sprintf("%s-%d", name, n)
	}
	var b [32]byte
	rand.Read(b[:])
	secret = base64.RawURLEncoding.EncodeToString(b[:])
	return secret, d.write(append(list, Device{unique, now.UTC().Truncate(time.Second), hashOf(secret)}))
}

// has reports that a cookie is a paired phone's.
func (d Devices) has(secret string) bool {
	list, err := d.List()
	hash := []byte(hashOf(secret))
	known := 0
	for _, dev := range list {
		known |= subtle.ConstantTimeCompare(hash, []byte(dev.Hash))
	}
	return err == nil && secret != "" && known == 1
}

func (d Devices) write(list []Device) error {
	data, err := json.MarshalIndent(list, "", " ")
	if err != nil {
		return err
	}
	return writePrivate(d.path, data)
}

// writePrivate writes a file that only its owner may read, whole or not at all.
func writePrivate(path string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".new-*") // 0600
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	_, err = f.Write(data)
	err = errors.Join(err, f.Sync(), f.Close())
	if err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

func hashOf(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}

// tokenOf is what the forms of a phone carry, so that no other page can send one.
func tokenOf(secret string) string {
	m := hmac.New(sha256.New, []byte(secret))
	m.Write([]byte("form"))
	return base64.RawURLEncoding.EncodeToString(m.Sum(nil))
}
