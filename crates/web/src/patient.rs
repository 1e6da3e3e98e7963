//! A connection that waits for its reader, but not for ever.

use std::io;
use std::pin::Pin;
use std::task::{Context, Poll, ready};

use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::TcpStream;
use tokio::time::{Sleep, sleep};

use crate::guard::READ_TIME;

/// A stream whose writing fails when nobody has read for a while.
pub(crate) struct Patient {
    stream: TcpStream,
    /// Since nothing more could be written.
    stalled: Option<Pin<Box<Sleep>>>,
}

impl Patient {
    pub(crate) fn new(stream: TcpStream) -> Self {
        Self { stream, stalled: None }
    }

    /// What came of writing; where nothing did, the time is looked at.
    fn waited<T>(&mut self, cx: &mut Context<'_>, came: Poll<io::Result<T>>) -> Poll<io::Result<T>> {
        if came.is_ready() {
            self.stalled = None;
            return came;
        }
        let stalled = self.stalled.get_or_insert_with(|| Box::pin(sleep(READ_TIME)));
        ready!(stalled.as_mut().poll(cx));
        Poll::Ready(Err(io::ErrorKind::TimedOut.into()))
    }
}

impl AsyncRead for Patient {
    fn poll_read(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        buf: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_read(cx, buf)
    }
}

impl AsyncWrite for Patient {
    fn poll_write(mut self: Pin<&mut Self>, cx: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        let came = Pin::new(&mut self.stream).poll_write(cx, bytes);
        self.waited(cx, came)
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        slices: &[io::IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        let came = Pin::new(&mut self.stream).poll_write_vectored(cx, slices);
        self.waited(cx, came)
    }

    fn is_write_vectored(&self) -> bool {
        self.stream.is_write_vectored()
    }

    fn poll_flush(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_flush(cx)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_shutdown(cx)
    }
}
