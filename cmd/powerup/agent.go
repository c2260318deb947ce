package main

import (
	"fmt"
	"net"
	"os"
	"time"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"

	"example.com/powerup/internal/transcriptlog"
)

// An agent answers from memory: one that takes longer hangs.
const agentPatience = 5 * time.Second

// agentSigner asks a running agent for the key whose public half lies beside
// path: at the start, so that one that is gone, locked or without the key is
// known before anything is measured. Why it cannot sign is said; of an agent that
// nobody runs there is nothing to say. The connection stays open until the close
// is signed.
func agentSigner(path string) (s transcriptlog.Signer, why error) {
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
		return nil, fmt.Errorf("ssh agent: it cannot be reached: %w", err)
	}
	if err := conn.SetDeadline(time.Now().Add(agentPatience)); err != nil {
		return nil, fmt.Errorf("ssh agent: %w", err)
	}
	if s, err = transcriptlog.AgentSigner(agent.NewClient(conn), pub); err != nil {
		conn.Close()
		return nil, err
	}
	return s, conn.SetDeadline(time.Time{})
}

// agentHint is what to do about an agent that cannot sign with a key.
func agentHint(path string) string {
	return fmt.Sprintf("ssh-add -X unlocks an agent, ssh-add %s gives it the key", shell(path))
}
