package phone

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"fmt"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// certificateLife is as long as telephones trust one (common practice: at most 825 days).
const certificateLife = 800 * 24 * time.Hour

// certificateFor is the kept certificate if it is good for an address, else a new one, kept
// in its place.
func certificateFor(dir, address string, now time.Time) (tls.Certificate, error) {
	path := filepath.Join(dir, "certificate.pem")
	if data, err := os.ReadFile(path); err == nil {
		if c, err := tls.X509KeyPair(data, data); err == nil && goodFor(c, address, now) {
			return c, nil
		}
	}
	data, err := newCertificate(address, now)
	if err != nil {
		return tls.Certificate{}, err
	}
	if err := writePrivate(path, data); err != nil {
		return tls.Certificate{}, err
	}
	return tls.X509KeyPair(data, data)
}

func goodFor(c tls.Certificate, address string, now time.Time) bool {
	return c.Leaf != nil && c.Leaf.VerifyHostname(address) == nil && now.After(c.Leaf.NotBefore) &&
		now.Add(24*time.Hour).Before(c.Leaf.NotAfter)
}

// newCertificate makes a key and a certificate that it signs itself, in PEM.
func newCertificate(address string, now time.Time) ([]byte, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 120))
	if err != nil {
		return nil, err
	}
	sheet := &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: "slipcase on " + address},
		NotBefore: now.Add(-time.Hour), NotAfter: now.Add(certificateLife),
		KeyUsage:    x509.KeyUsageDigitalSignature | x509.KeyUsageCertSign,
		ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		IsCA:        true, BasicConstraintsValid: true,
		DNSNames: []string{"localhost"}, IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)},
	}
	if ip := net.ParseIP(address); ip != nil && !ip.IsLoopback() {
		sheet.IPAddresses = append(sheet.IPAddresses, ip)
	}
	signed, err := x509.CreateCertificate(rand.Reader, sheet, sheet, &key.PublicKey, key)
	if err != nil {
		return nil, err
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return nil, err
	}
	return append(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: signed}),
		pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret})...), nil
}

// fingerprint is the SHA-256 of a certificate as browsers show it.
func fingerprint(c tls.Certificate) string {
	sum := sha256.Sum256(c.Certificate[0])
	parts := make([]string, len(sum))
	for i, b := range sum {
		parts[i] = fmt.Sprintf("%02X", b)
	}
	return strings.Join(parts, ":")
}
