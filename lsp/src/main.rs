//! The language server of Wythe: protocol in, protocol out. What it knows, it asks of the library.

mod actor;
mod convert;
mod overlay;
mod server;
#[cfg(test)]
mod tests;

use tower_lsp_server::{LspService, Server};

#[tokio::main(flavor = "current_thread")]
async fn main() {
    let (service, socket) = LspService::new(server::Backend::new);
    Server::new(tokio::io::stdin(), tokio::io::stdout(), socket).serve(service).await;
}
