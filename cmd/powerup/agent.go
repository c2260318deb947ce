package main

import (
	"errors"
	"net"
	"os"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"

	"example.com/powerup/internal/transcriptlog"
)

// agentSigner asks a running agent for the key whose public half lies beside
// path. The connection stays open until the close is signed.
func agentSigner(path string) (transcriptlog.Signer, error) {
	socket := os.Getenv("SSH_AUTH_SOCK")
	if socket == "" {
		return nil, errors.New("no agent")
	}
	text, err := os.ReadFile(path + ".pub")
	if err != nil {
		return nil, err
	}
	pub, _, _, _, err := ssh.ParseAuthorizedKey(text)
	if err != nil {
		return nil, err
	}
	conn, err := net.Dial("unix", socket)
	if err != nil {
		return nil, err
	}
	return transcriptlog.AgentSigner(agent.NewClient(conn), pub)
}
