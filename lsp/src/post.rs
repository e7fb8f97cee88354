//! Carries to the client, in order, what the owner thread says unasked, so that it never waits for a slow reader.

use tokio::sync::mpsc::UnboundedReceiver;
use tower_lsp_server::Client;
use tower_lsp_server::ls_types::MessageType;

use crate::actor::Message;

/// Carries messages until there are no more.
pub async fn carry(client: Client, mut messages: UnboundedReceiver<Message>) {
    while let Some(message) = messages.recv().await {
        match message {
            Message::Publish(uri, version, marks) => client.publish_diagnostics(uri, marks, version).await,
            Message::Log(text) => client.log_message(MessageType::ERROR, text).await,
        }
    }
}
