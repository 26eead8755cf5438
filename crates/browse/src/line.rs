//! A line between a device and the server that can be cut: what is on its way breaks off, and nothing new gets through
//! until it is mended. The server does not notice, and neither do others.

use std::{
    io,
    net::{Shutdown, TcpListener, TcpStream},
    sync::{Arc, Mutex, MutexGuard, PoisonError},
    thread,
};

use crate::Outcome;

/// The line; each device has one of its own, under an address that stays.
pub(crate) struct Line {
    port: u16,
    state: Arc<Mutex<State>>,
}

#[derive(Default)]
struct State {
    cut: bool,
    /// Both ends of every connection under way, by number.
    open: Vec<(u64, [TcpStream; 2])>,
    last: u64,
}

impl Line {
    /// A line to the server on that port of this machine.
    pub(crate) fn start(server: u16) -> Outcome<Self> {
        let said = |error: io::Error| format!("a line to the server: {error}");
        let listener = TcpListener::bind("127.0.0.1:0").map_err(said)?;
        let port = listener.local_addr().map_err(said)?.port();
        let state = Arc::new(Mutex::new(State::default()));
        let shared = Arc::clone(&state);
        thread::spawn(move || {
            for device in listener.incoming().flatten() {
                // Nobody listens where the server is down: the device's end is closed, as a machine's without it would be.
                let Ok(server) = TcpStream::connect(("127.0.0.1", server)) else { continue };
                drop(forward(&shared, device, server));
            }
        });
        Ok(Self { port, state })
    }

    /// The app's address over this line.
    pub(crate) fn address(&self) -> String {
        format!("http://127.0.0.1:{}/", self.port)
    }

    /// Cuts it.
    pub(crate) fn cut(&self) {
        let mut state = lock(&self.state);
        state.cut = true;
        for (_, ends) in state.open.drain(..) {
            for end in ends {
                drop(end.shutdown(Shutdown::Both));
            }
        }
    }

    /// Mends it.
    pub(crate) fn mend(&self) {
        lock(&self.state).cut = false;
    }
}

impl Drop for Line {
    fn drop(&mut self) {
        self.cut();
    }
}

fn lock(state: &Mutex<State>) -> MutexGuard<'_, State> {
    state.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Carries bytes both ways until one side ends, or the line is cut.
fn forward(shared: &Arc<Mutex<State>>, device: TcpStream, server: TcpStream) -> io::Result<()> {
    let ends = [device.try_clone()?, server.try_clone()?];
    let number = {
        let mut state = lock(shared);
        if state.cut {
            return Ok(());
        }
        state.last += 1;
        let number = state.last;
        state.open.push((number, ends));
        number
    };
    for (mut from, mut to) in [(device.try_clone()?, server.try_clone()?), (server, device)] {
        let shared = Arc::clone(shared);
        thread::spawn(move || {
            drop(io::copy(&mut from, &mut to));
            drop(to.shutdown(Shutdown::Both));
            lock(&shared).open.retain(|(other, _)| *other != number);
        });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::Line;
    use std::{
        io::{Read as _, Write as _},
        net::{TcpListener, TcpStream},
    };

    fn say(to: &mut TcpStream, text: &[u8]) -> std::io::Result<Vec<u8>> {
        to.write_all(text)?;
        let mut answer = vec![0; text.len()];
        to.read_exact(&mut answer).map(|()| answer)
    }

    #[test]
    fn a_cut_line_carries_nothing_and_a_mended_one_does() {
        let server = TcpListener::bind("127.0.0.1:0").unwrap();
        let port = server.local_addr().unwrap().port();
        std::thread::spawn(move || {
            for mut one in server.incoming().flatten() {
                std::thread::spawn(move || {
                    let mut other = one.try_clone().unwrap();
                    std::io::copy(&mut one, &mut other)
                });
            }
        });
        let line = Line::start(port).unwrap();
        let connect = || TcpStream::connect(("127.0.0.1", line.port)).unwrap();
        let mut under_way = connect();
        assert_eq!(say(&mut under_way, b"hello").unwrap(), b"hello");
        line.cut();
        assert!(say(&mut under_way, b"hello").is_err());
        assert!(say(&mut connect(), b"hello").is_err());
        line.mend();
        assert_eq!(say(&mut connect(), b"again").unwrap(), b"again");
    }
}
