package phone

import (
	"net"
	"net/netip"
)

// Addresses are the private ones of this machine, by which others on its network reach it.
func Addresses() (list []string, err error) {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	for _, a := range all {
		prefix, err := netip.ParsePrefix(a.String())
		if err != nil {
			continue
		}
		if ip := prefix.Addr().Unmap(); ip.Is4() && (ip.IsPrivate() || ip.IsLinkLocalUnicast()) {
			list = append(list, ip.String())
		}
	}
	return list, nil
}

// private reports an address that no one outside the network can reach.
func private(address string) bool {
	ip, err := netip.ParseAddr(address)
	return err == nil && (ip.IsPrivate() || ip.IsLoopback() || ip.IsLinkLocalUnicast())
}
