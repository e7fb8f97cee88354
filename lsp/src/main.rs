//! The server as a program: it speaks over standard input and output, and ends when its client does.

use std::process::ExitCode;

use wythe_lsp::server;

fn main() -> ExitCode {
    let Ok(runtime) = tokio::runtime::Builder::new_current_thread().enable_all().build() else {
        return ExitCode::FAILURE;
    };
    let orderly = runtime.block_on(server::serve(tokio::io::stdin(), tokio::io::stdout()));
    // Somebody may still wait for input or work on a wall; neither must keep the process alive.
    runtime.shutdown_background();
    std::process::exit(i32::from(!orderly))
}
