package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/phone"
)

// servePort is where the page is, so that a phone finds it where it was.
const servePort = 8470

func (a *app) serveCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "serve",
		Short: "a page for the phone: slips typed in the staging lane",
		Long: `Serves one small page: slips typed on a big keypad, the verdict, the dials, and a
dial card that stays on the phone. Slips typed out of reach wait on the phone and are
recorded once it is back. Enter makes a new pairing code, q ends.`,
		Example: `  slipcase serve
  slipcase serve --lan
  slipcase serve --lan=192.168.4.2 --tls`,
		Args: cobra.NoArgs,
		RunE: a.reads(a.serve),
	}
	f := c.Flags()
	f.String("lan", "", "let the pit's own network in, at this machine's address there; asked when it has several")
	f.Lookup("lan").NoOptDefVal = "ask"
	f.Int("port", servePort, "where; 0 for any that is free")
	f.Bool("tls", false, "encrypt, with a certificate of our own that is made once and kept")
	devices := &cobra.Command{
		Use:     "devices",
		Short:   "the phones that are paired",
		Example: "  slipcase serve devices",
		Args:    cobra.NoArgs,
		RunE:    do(a.listDevices),
	}
	devices.AddCommand(&cobra.Command{
		Use:     "revoke NAME",
		Short:   "let a phone in no more",
		Example: "  slipcase serve devices revoke phone",
		Args:    cobra.ExactArgs(1),
		RunE:    do(a.revokeDevice),
	})
	c.AddCommand(devices)
	return brief(c)
}

// settingsDir is where what belongs to this machine and its user is kept.
func settingsDir() (string, error) {
	dir, err := os.UserConfigDir()
	return filepath.Join(dir, "slipcase"), err
}

// devices are the phones paired with the logbook in use.
func (a *app) devices() (phone.Devices, error) {
	dir, err := settingsDir()
	if err != nil {
		return phone.Devices{}, err
	}
	return phone.DevicesOf(dir, a.dir)
}

func (a *app) serve(c *cobra.Command, _ []string, lb *crew.Session) error {
	address, err := a.serveAddress(c)
	if err != nil {
		return err
	}
	conf := phone.Config{
		Session: lb, Address: address, Units: a.units, Bare: bareIn(c), Now: a.now, QRColumns: a.page.Width(),
	}
	conf.Port, _ = c.Flags().GetInt("port")
	conf.TLS, _ = c.Flags().GetBool("tls")
	if conf.Settings, err = settingsDir(); err != nil {
		return err
	}
	if conf.Devices, err = a.devices(); err != nil {
		return err
	}
	s, err := phone.Listen(conf)
	if err != nil {
		return fmt.Errorf("%w: --port names another", err)
	}
	out := a.tty.Out // an answer that does not wait for the end
	fmt.Fprintf(out, "%s\n", s.URL())
	if qr := s.QR(); qr != "" && c.Flags().Changed("lan") {
		fmt.Fprint(out, qr)
	}
	if print := s.Fingerprint(); print != "" {
		fmt.Fprintf(out, "certificate, SHA-256:\n%s\n", strings.Join(page.Lines(strings.ReplaceAll(print, ":", " "), a.page.Room()), "\n"))
	} else if c.Flags().Changed("lan") {
		a.page.Note("note: without --tls whoever is on this network can read along, and take a phone's place")
	}
	fmt.Fprintf(out, "pairing code %s: one phone, five minutes; Enter makes a new one, q ends\n", s.NewCode())
	ctx, stop := context.WithCancel(c.Context())
	defer stop()
	go a.heedLaptop(s, stop)
	return s.Serve(ctx)
}

// heedLaptop makes new codes until the racer ends it. Where nobody can type it goes on.
func (a *app) heedLaptop(s *phone.Server, stop func()) {
	for lines := bufio.NewScanner(a.in); lines.Scan(); {
		if strings.EqualFold(strings.TrimSpace(lines.Text()), "q") {
			stop()
			return
		}
		fmt.Fprintf(a.tty.Out, "pairing code %s\n", s.NewCode())
	}
}

// serveAddress is the address to serve at: this machine's own, or on the network the one
// that is named or chosen.
func (a *app) serveAddress(c *cobra.Command) (string, error) {
	text, _ := c.Flags().GetString("lan")
	switch {
	case !c.Flags().Changed("lan"):
		return "127.0.0.1", nil
	case text != "ask":
		return text, nil
	}
	list, err := phone.Addresses()
	switch {
	case err != nil:
		return "", err
	case len(list) == 0:
		return "", errors.New("this machine has no private address: join the pit's network first")
	case len(list) == 1:
		return list[0], nil
	case !a.tty.Interactive():
		return "", usagef("--lan: this machine has %s: want --lan=%s", strings.Join(list, ", "), list[0])
	}
	for i, address := range list {
		fmt.Fprintf(a.tty.Out, "  [%d] %s\n", i+1, address)
	}
	for {
		text, err := a.tty.Ask("which network", "1")
		if err != nil {
			return "", err
		}
		for i, address := range list {
			if text == fmt.Sprint(i+1) || text == address {
				return address, nil
			}
		}
	}
}

func (a *app) listDevices(*cobra.Command, []string) error {
	devices, err := a.devices()
	if err != nil {
		return err
	}
	list, err := devices.List()
	if err != nil {
		return err
	}
	paired := make([]page.Paired, len(list))
	for i, d := range list {
		paired[i] = page.Paired{Name: d.Name, At: d.PairedAt.In(a.now().Location())}
	}
	return a.page.Devices(paired)
}

func (a *app) revokeDevice(_ *cobra.Command, args []string) error {
	devices, err := a.devices()
	if err != nil {
		return err
	}
	if err := devices.Revoke(args[0]); err != nil {
		return &advised{err, "slipcase serve devices lists them"}
	}
	_, err = fmt.Fprintf(a.out, "%s is let in no more\n", args[0])
	return err
}
