package main

import (
	"errors"
	"fmt"
	"net"
	"os"
	"time"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"

	"example.com/powerup/internal/transcriptlog"
)

// An agent answers from memory: one that takes longer hangs. For a signature it
// may ask a person first, in a window or by a token that is touched.
const (
	agentPatience = 5 * time.Second
	signPatience  = 60 * time.Second
)

var errUnreached = errors.New("it cannot be reached")

// agentSigner asks a running agent for the key whose public half lies beside
// path: at the start, so that one that is gone, locked or without the key is
// known before anything is measured. Why it cannot sign is said; of an agent that
// nobody runs there is nothing to say. The connection stays open until the close
// is signed, and a signature may take as long as that.
func agentSigner(path string, patience time.Duration) (s transcriptlog.Signer, why error) {
	socket := os.Getenv("SSH_AUTH_SOCK")
	text, err := os.ReadFile(path + ".pub")
	if socket == "" || err != nil {
		return nil, nil
	}
	pub, _, _, _, err := ssh.ParseAuthorizedKey(text)
	if err != nil {
		return nil, fmt.Errorf("%s.pub: %w", path, err)
	}
	conn, err := net.DialTimeout("unix", socket, agentPatience)
	if err != nil {
		return nil, fmt.Errorf("ssh agent: %w: %w", errUnreached, err)
	}
	if err := conn.SetDeadline(time.Now().Add(agentPatience)); err != nil {
		return nil, fmt.Errorf("ssh agent: %w", err)
	}
	if s, err = transcriptlog.AgentSigner(agent.NewClient(conn), pub); err != nil {
		conn.Close()
		return nil, err
	}
	return timedSigner{s, conn, patience}, nil
}

// timedSigner gives an agent so long for each signature, and no longer: the end of
// a session must not hang on it.
type timedSigner struct {
	transcriptlog.Signer
	conn     net.Conn
	patience time.Duration
}

func (s timedSigner) Sign(namespace string, message []byte) ([]byte, error) {
	end := time.Now().Add(s.patience)
	if err := s.conn.SetDeadline(end); err != nil {
		return nil, fmt.Errorf("ssh agent: %w", err)
	}
	armored, err := s.Signer.Sign(namespace, message)
	if err != nil && !time.Now().Before(end) {
		return nil, fmt.Errorf("ssh agent: no signature came within %v: %w", s.patience, err)
	}
	return armored, err
}

// gone tells of an agent that nobody can ask.
func gone(cannot error) bool {
	return errors.Is(cannot, errUnreached) || errors.Is(cannot, transcriptlog.ErrNoAnswer)
}

// agentHint is what to do about an agent that cannot sign with a key: one that is
// gone or hangs takes no key.
func agentHint(path string, cannot error) string {
	if gone(cannot) {
		return "start the agent anew, or unset SSH_AUTH_SOCK to do without one"
	}
	return fmt.Sprintf("ssh-add -X unlocks an agent, ssh-add %s gives it the key", shell(path))
}
