"""The program `tearline serve --stdio`, found, started and spoken to."""
