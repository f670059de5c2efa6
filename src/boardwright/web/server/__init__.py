"""Starting the page: its addresses in the local network, its certificate, its sockets."""
