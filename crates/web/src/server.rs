//! The server: one thread for connections, a few for answers, everything with a limit.

use std::convert::Infallible;
use std::error::Error;
use std::io;
use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;
use std::time::Duration;

use http_body_util::{BodyExt, Full, Limited};
use hyper::body::{Body, Bytes, Incoming};
use hyper::header::{CONTENT_DISPOSITION, CONTENT_TYPE, HeaderName, HeaderValue};
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper::{Method, Request, Response, StatusCode};
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::time::{sleep, timeout};

use crate::desk::{Desk, Given};
use crate::guard::{
    self, ALWAYS, BODY_TIME, CONNECTIONS, HEAD_TIME, HEARD, LONGEST_FILE, LONGEST_HEAD, WORK_TIME, WORKERS,
};
use crate::patient::Patient;
use crate::routes::{self, Reply, refuse};

/// Serves the page on the loopback address until the program is ended. Port 0 is one that is free. `ready` is told the
/// address, and says whether to go on.
///
/// # Errors
/// The port is taken, or the system gives no sockets or threads.
pub fn serve(given: Given, port: u16, ready: impl FnOnce(SocketAddr) -> bool) -> io::Result<()> {
    let mut builder = tokio::runtime::Builder::new_current_thread();
    let runtime = builder.enable_all().max_blocking_threads(WORKERS + 2).build()?;
    runtime.block_on(async {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port)).await?;
        let address = listener.local_addr()?;
        let shared = Arc::new(Shared {
            desk: Arc::new(Desk::new(given)),
            workers: Arc::new(Semaphore::new(WORKERS)),
            heard: Arc::new(Semaphore::new(HEARD)),
            port: address.port(),
        });
        if ready(address) { accept(&listener, &shared).await } else { Ok(()) }
    })
}

struct Shared {
    desk: Arc<Desk>,
    workers: Arc<Semaphore>,
    heard: Arc<Semaphore>,
    port: u16,
}

async fn accept(listener: &TcpListener, shared: &Arc<Shared>) -> io::Result<()> {
    let connections = Arc::new(Semaphore::new(CONNECTIONS));
    loop {
        let Ok(place) = connections.clone().acquire_owned().await else { return Ok(()) };
        match listener.accept().await {
            Ok((stream, _)) => {
                let shared = shared.clone();
                tokio::spawn(async move {
                    connection(stream, shared).await;
                    drop(place);
                });
            }
            // No more files may be open, for one: others will be closed.
            Err(_) => sleep(Duration::from_millis(50)).await,
        }
    }
}

async fn connection(stream: TcpStream, shared: Arc<Shared>) {
    drop(stream.set_nodelay(true));
    let service = service_fn(move |request| {
        let shared = shared.clone();
        async move { Ok::<_, Infallible>(sent(respond(request, &shared).await)) }
    });
    let mut http = http1::Builder::new();
    http.timer(TokioTimer::new()).header_read_timeout(HEAD_TIME).max_buf_size(LONGEST_HEAD);
    // Who sends nonsense or goes away is not waited for.
    drop(http.serve_connection(TokioIo::new(Patient::new(stream)), service).await);
}

async fn respond(request: Request<Incoming>, shared: &Shared) -> Reply {
    let (head, body) = request.into_parts();
    if let Err((status, words)) = guard::check((&head.method, &head.uri), &head.headers, shared.port) {
        return refuse(status, words);
    }
    let path = head.uri.path().to_owned();
    let Heard { bytes: body, held } = if head.method == Method::POST {
        let longest = routes::longest(&path);
        let large = match longest {
            LONGEST_FILE => "this file is more than the page takes, 8 MB",
            _ => "this is more than the page takes, 1 MB",
        };
        // What is announced as too long is not heard at all.
        if !usize::try_from(body.size_hint().lower()).is_ok_and(|n| n <= longest) {
            return refuse(StatusCode::PAYLOAD_TOO_LARGE, large);
        }
        match timeout(BODY_TIME, hear(body, longest, shared)).await {
            Ok(Ok(heard)) => heard,
            Ok(Err(e)) if e.is::<http_body_util::LengthLimitError>() => {
                return refuse(StatusCode::PAYLOAD_TOO_LARGE, large);
            }
            Ok(Err(_)) => return refuse(StatusCode::BAD_REQUEST, "the question ended before its end"),
            Err(_) => return refuse(StatusCode::REQUEST_TIMEOUT, "the question came too slowly"),
        }
    } else {
        Heard::default()
    };
    let work = async {
        let place = shared.workers.clone().acquire_owned().await;
        let desk = shared.desk.clone();
        let answer = move || {
            let reply = routes::answer(&desk, &head.method, &path, body);
            drop((place, held));
            reply
        };
        tokio::task::spawn_blocking(answer).await
    };
    match timeout(WORK_TIME, work).await {
        Ok(Ok(reply)) => reply,
        Ok(Err(_)) => refuse(
            StatusCode::INTERNAL_SERVER_ERROR,
            "fault of the program: please report it, with the job file",
        ),
        Err(_) => {
            refuse(StatusCode::SERVICE_UNAVAILABLE, "this takes too long, or too much is asked at once")
        }
    }
}

/// A question, and its share of what is heard at once.
#[derive(Default)]
struct Heard {
    bytes: Vec<u8>,
    held: Option<OwnedSemaphorePermit>,
}

/// Hears a question out. What has come of it takes its share, not what is announced: a slow one is in nobody's way.
async fn hear(
    body: Incoming,
    longest: usize,
    shared: &Shared,
) -> Result<Heard, Box<dyn Error + Send + Sync>> {
    let mut body = Limited::new(body, longest);
    let mut heard = Heard::default();
    while let Some(frame) = body.frame().await {
        let Ok(bytes) = frame?.into_data() else { continue };
        let share = u32::try_from(bytes.len())?;
        let more = shared.heard.clone().acquire_many_owned(share).await?;
        match &mut heard.held {
            Some(held) => held.merge(more),
            None => heard.held = Some(more),
        }
        heard.bytes.extend_from_slice(&bytes);
    }
    Ok(heard)
}

fn sent(reply: Reply) -> Response<Full<Bytes>> {
    let mut response = Response::new(Full::new(Bytes::from(reply.body)));
    *response.status_mut() = reply.status;
    let headers = response.headers_mut();
    headers.insert(CONTENT_TYPE, HeaderValue::from_static(reply.kind));
    for (name, value) in ALWAYS {
        headers.insert(HeaderName::from_static(name), HeaderValue::from_static(value));
    }
    if let Some(file) = reply.file {
        // The page saves under a name of its own; this one is for other programs, and plain.
        let plain = |c: char| if c.is_ascii_alphanumeric() || "-_.".contains(c) { c } else { '-' };
        let name: String = file.chars().map(plain).collect();
        if let Ok(value) = HeaderValue::from_str(&format!("attachment; filename=\"{name}\"")) {
            headers.insert(CONTENT_DISPOSITION, value);
        }
    }
    response
}
