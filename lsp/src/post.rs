//! Carries to the client, in order, what the owner thread says unasked, so that it never waits for a slow reader.

use std::sync::{Arc, OnceLock};
use std::time::Duration;

use tokio::sync::mpsc::UnboundedReceiver;
use tokio::time::{Instant, sleep_until};
use tower_lsp_server::jsonrpc::Result;
use tower_lsp_server::ls_types::{MessageType, ProgressToken};
use tower_lsp_server::{Client, NotCancellable, OngoingProgress, Unbounded};

use crate::actor::Message;
use crate::capabilities::ClientFacts;

/// Work that takes longer is shown.
const LONG: Duration = Duration::from_millis(500);

/// Carries messages until there are no more.
pub async fn carry(client: Client, facts: Arc<OnceLock<ClientFacts>>, mut messages: UnboundedReceiver<Message>) {
    let mut busy_since: Option<Instant> = None;
    let mut shown: Option<OngoingProgress<Unbounded, NotCancellable>> = None;
    let mut count = 0;
    loop {
        let message = match busy_since {
            Some(since) if shown.is_none() => tokio::select! {
                message = messages.recv() => message,
                () = sleep_until(since + LONG) => {
                    count += 1;
                    shown = show(&client, facts.get(), count).await;
                    busy_since = None;
                    continue;
                }
            },
            _ => messages.recv().await,
        };
        let Some(message) = message else { return };
        match message {
            Message::Publish(uri, version, marks) => client.publish_diagnostics(uri, marks, version).await,
            Message::Log(text) => client.log_message(MessageType::ERROR, text).await,
            // Work that is put off for an urgent question goes on right after it: that is still one piece of work.
            Message::Busy => busy_since = Some(busy_since.unwrap_or_else(Instant::now)),
            Message::Idle => {
                busy_since = None;
                if let Some(shown) = shown.take() {
                    shown.finish().await;
                }
            }
            Message::MarksChanged => refresh(&client, facts.get(), false),
            Message::AllChanged => refresh(&client, facts.get(), true),
        }
    }
}

/// Shows that work goes on, if the client can.
async fn show(
    client: &Client,
    facts: Option<&ClientFacts>,
    count: u32,
) -> Option<OngoingProgress<Unbounded, NotCancellable>> {
    if !facts?.progress {
        return None;
    }
    let token = ProgressToken::String(format!("wythe-{count}"));
    client.create_work_done_progress(token.clone()).await.ok()?;
    Some(client.progress(token, "Checking the wall").begin().await)
}

/// Tells the client to ask again. Nobody waits for its answer.
fn refresh(client: &Client, facts: Option<&ClientFacts>, all: bool) {
    let Some(facts) = facts.cloned() else { return };
    let client = client.clone();
    tokio::spawn(async move {
        let told: Result<()> = async {
            if facts.pulls && facts.refreshes_marks {
                client.workspace_diagnostic_refresh().await?;
            }
            if all && facts.refreshes_hints {
                client.inlay_hint_refresh().await?;
            }
            if all && facts.refreshes_lenses {
                client.code_lens_refresh().await?;
            }
            Ok(())
        }
        .await;
        // A client that will not ask again keeps what it has until it next asks by itself.
        drop(told);
    });
}
