//! How often somebody may ask: a bucket that fills at a steady rate and holds a burst.

use std::{
    collections::BTreeMap,
    net::IpAddr,
    sync::Mutex,
    time::{Duration, Instant},
};

/// A steady rate with a burst.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Rate {
    /// So many at once.
    pub(crate) burst: f64,
    /// So many a second in the long run.
    pub(crate) a_second: f64,
}

/// What a paired device may ask.
pub(crate) const DEVICE: Rate = Rate { burst: 400.0, a_second: 200.0 };
/// What strangers at one address may ask of what is not public.
pub(crate) const STRANGER: Rate = Rate { burst: 60.0, a_second: 2.0 };
/// Tries at pairing from one address.
pub(crate) const PAIRING: Rate = Rate { burst: 10.0, a_second: 10.0 / 600.0 };
/// Tries at pairing from everywhere: at most 250 while one code lasts, of 2⁴⁰ possible ones.
pub(crate) const PAIRING_OVERALL: Rate = Rate { burst: 100.0, a_second: 150.0 / 600.0 };

/// Pages and files of agreements for one address: a page has five files.
pub(crate) const READING: Rate = Rate { burst: 120.0, a_second: 1.0 };
/// Forms under an agreement from one address.
pub(crate) const AGREEING: Rate = Rate { burst: 10.0, a_second: 10.0 / 600.0 };

/// Tries of one device at a signing key's passphrase.
pub(crate) const PASSPHRASE: Rate = Rate { burst: 10.0, a_second: 10.0 / 600.0 };
/// Tries at it of all devices together: some 9,000 a week, each of which scrypt makes slow.
pub(crate) const PASSPHRASE_OVERALL: Rate = Rate { burst: 30.0, a_second: 9.0 / 600.0 };

/// More buckets than this are looked through for full ones, which say nothing.
const BUCKETS: usize = 10_000;

#[derive(Debug)]
struct Bucket {
    left: f64,
    at: Instant,
}

/// The buckets of one kind of asking, by who asks.
#[derive(Debug)]
pub(crate) struct Rates<K> {
    rate: Rate,
    buckets: Mutex<BTreeMap<K, Bucket>>,
}

impl<K: Ord> Rates<K> {
    pub(crate) fn new(rate: Rate) -> Self {
        Self { rate, buckets: Mutex::default() }
    }

    /// Takes one, or says how long to wait for the next.
    pub(crate) fn take(&self, who: K, now: Instant) -> Result<(), Duration> {
        let Rate { burst, a_second } = self.rate;
        let Ok(mut buckets) = self.buckets.lock() else { return Ok(()) };
        let filled = |bucket: &Bucket| {
            let since = now.saturating_duration_since(bucket.at).as_secs_f64();
            (bucket.left + since * a_second).min(burst)
        };
        if buckets.len() >= BUCKETS {
            buckets.retain(|_, bucket| filled(bucket) < burst);
        }
        let bucket = buckets.entry(who).or_insert(Bucket { left: burst, at: now });
        bucket.left = filled(bucket);
        bucket.at = now;
        if bucket.left < 1.0 {
            return Err(Duration::from_secs_f64((1.0 - bucket.left) / a_second));
        }
        bucket.left -= 1.0;
        Ok(())
    }
}

/// An address as one who asks: of IPv6, the network of a household (a /64) counts as one.
pub(crate) fn asker(address: IpAddr) -> IpAddr {
    match address.to_canonical() {
        IpAddr::V6(six) => {
            let [a, b, c, d, ..] = six.segments();
            IpAddr::from([a, b, c, d, 0, 0, 0, 0])
        }
        four @ IpAddr::V4(_) => four,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_burst_passes_and_then_the_steady_rate() {
        let rates = Rates::new(Rate { burst: 3.0, a_second: 2.0 });
        let start = Instant::now();
        for _ in 0..3 {
            assert_eq!(rates.take("a", start), Ok(()));
        }
        assert_eq!(rates.take("a", start), Err(Duration::from_millis(500)));
        assert_eq!(rates.take("b", start), Ok(()), "somebody else");
        assert_eq!(rates.take("a", start + Duration::from_millis(500)), Ok(()));
        assert!(rates.take("a", start + Duration::from_millis(500)).is_err());
    }

    #[test]
    fn a_household_counts_as_one() {
        let one = asker("2001:db8:1:2:3:4:5:6".parse().unwrap());
        assert_eq!(one, asker("2001:db8:1:2::9".parse().unwrap()));
        assert_ne!(one, asker("2001:db8:1:3::9".parse().unwrap()));
        assert_eq!(asker("::ffff:192.0.2.1".parse().unwrap()), asker("192.0.2.1".parse().unwrap()));
    }
}
