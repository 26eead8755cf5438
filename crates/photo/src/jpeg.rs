//! Reading a JPEG: already shrunk while it is decoded, and without leaving its own colours.

use turbojpeg::{
    Colorspace, DecompressHeader, Decompressor, Image, PixelFormat, ScalingFactor, Subsamp,
    YuvImage, yuv_pixels_len,
};

use crate::{
    Limits, Refusal, Size,
    damage::{Damage, Undecoded},
    picture::{Picture, from_rgb},
    plane::PlaneView,
};

/// A JPEG whose header has been read and found within the limits.
pub(crate) struct JpegFile<'a> {
    bytes: &'a [u8],
    header: DecompressHeader,
    decompressor: Decompressor,
    pub(crate) size: Size,
}

/// Decoded channels, still as the decoder laid them out.
pub(crate) struct Decoded {
    samples: Vec<u8>,
    layout: DecompressHeader,
    planes: bool,
}

impl<'a> JpegFile<'a> {
    /// Reads the header alone.
    pub(crate) fn open(name: &str, bytes: &'a [u8], limits: &Limits) -> Result<Self, Undecoded> {
        let mut decompressor = Decompressor::new().map_err(Damage::of)?;
        let header = decompressor.read_header(bytes).map_err(Damage::of)?;
        let side = |length: usize| u32::try_from(length).map_err(Damage::of);
        let size = Size { width: side(header.width)?, height: side(header.height)? };
        if size.width == 0 || size.height == 0 {
            return Err(Damage::of("a side is zero pixels long").into());
        }
        limits.check_size(name, size.width, size.height)?;
        decompressor.set_scan_limit(limits.scans).map_err(Damage::of)?;
        Ok(Self { bytes, header, decompressor, size })
    }

    /// Decodes at the smallest of 1, 1/2, 1/4 and 1/8 whose longest side is at least `longest`.
    pub(crate) fn decode(
        mut self,
        name: &str,
        limits: &Limits,
        longest: u32,
    ) -> Result<Decoded, Undecoded> {
        self.refuse_what_no_camera_writes(name)?;
        self.refuse_what_cannot_be_whole()?;
        let factor = scale(self.size.width.max(self.size.height), longest);
        self.decompressor.set_scaling_factor(factor).map_err(Damage::of)?;
        let layout = self.header.scaled(factor);
        let planes = matches!(layout.colorspace, Colorspace::YCbCr | Colorspace::Gray)
            && layout.subsamp != Subsamp::Unknown;
        let done = if planes { self.decode_planes(&layout) } else { self.decode_rgb(&layout) };
        match done {
            Ok(samples) => Ok(Decoded { samples, layout, planes }),
            Err(error) => Err(undecoded(name, limits, &error)),
        }
    }

    fn decode_planes(&mut self, layout: &DecompressHeader) -> turbojpeg::Result<Vec<u8>> {
        let &DecompressHeader { width, height, subsamp, .. } = layout;
        let mut samples = vec![0; yuv_pixels_len(width, 1, height, subsamp)?];
        let target = YuvImage { pixels: &mut samples[..], width, align: 1, height, subsamp };
        self.decompressor.decompress_to_yuv(self.bytes, target)?;
        Ok(samples)
    }

    fn decode_rgb(&mut self, layout: &DecompressHeader) -> turbojpeg::Result<Vec<u8>> {
        let &DecompressHeader { width, height, .. } = layout;
        let pitch = width * 3;
        let mut samples = vec![0; pitch * height];
        let format = PixelFormat::RGB;
        let target = Image { pixels: &mut samples[..], width, pitch, height, format };
        self.decompressor.decompress(self.bytes, target)?;
        Ok(samples)
    }

    fn refuse_what_no_camera_writes(&self, name: &str) -> Result<(), Refusal> {
        let kind = if matches!(self.header.colorspace, Colorspace::CMYK | Colorspace::YCCK) {
            "JPEG files in printing colours (CMYK)"
        } else if self.header.is_lossless {
            "lossless JPEG files"
        } else {
            return Ok(());
        };
        let remedy = "save the picture as an ordinary RGB JPEG";
        Err(Refusal::OtherFormat { name: name.to_owned(), kind, remedy })
    }

    /// A Huffman-coded block of 64 samples takes at least one bit (ITU-T T.81, annex F), so a
    /// file with fewer bytes than a 512th of its pixels breaks off. Half of that is asked here,
    /// before memory is, so that a few bytes cannot claim a gigabyte.
    fn refuse_what_cannot_be_whole(&self) -> Result<(), Damage> {
        let least = self.header.width * self.header.height / 1024;
        if self.header.is_arithmetic || self.bytes.len() >= least {
            return Ok(());
        }
        Err(Damage(format!(
            "{} bytes cannot hold {} × {} pixels",
            self.bytes.len(),
            self.size.width,
            self.size.height
        )))
    }
}

impl Decoded {
    /// The channels, without the columns and rows that were added to fill a block of colour.
    pub(crate) fn picture(&self) -> Result<Picture<'_>, Damage> {
        let DecompressHeader { width, height, subsamp, .. } = self.layout;
        let side = |length: usize| u32::try_from(length).map_err(Damage::of);
        if !self.planes {
            return Ok(from_rgb(&self.samples, side(width)?, side(height)?));
        }
        let (across, down) = subsamp.size();
        let (chroma_width, chroma_height) = (width.div_ceil(across), height.div_ceil(down));
        let stride = chroma_width * across;
        let (luma, rest) = self.samples.split_at(stride * chroma_height * down);
        let luma = PlaneView::cut(luma, stride, side(width)?, side(height)?);
        if subsamp == Subsamp::Gray {
            return Ok(Picture { luma, chroma: None });
        }
        let (blue, red) = rest.split_at(chroma_width * chroma_height);
        let colour = |samples| {
            Ok(PlaneView::cut(samples, chroma_width, side(chroma_width)?, side(chroma_height)?))
        };
        Ok(Picture { luma, chroma: Some((colour(blue)?, colour(red)?)) })
    }
}

fn scale(side: u32, longest: u32) -> ScalingFactor {
    [ScalingFactor::ONE_EIGHTH, ScalingFactor::ONE_QUARTER, ScalingFactor::ONE_HALF]
        .into_iter()
        .find(|factor| factor.scale(side as usize) >= longest as usize)
        .unwrap_or(ScalingFactor::ONE)
}

/// The decoder reports even slight damage as an error, and so do we: a photo that shows
/// something other than what the lens saw is worse than none.
fn undecoded(name: &str, limits: &Limits, error: &turbojpeg::Error) -> Undecoded {
    let reason = error.to_string();
    let reason = reason.strip_prefix("TurboJPEG error: ").unwrap_or(&reason);
    if reason.contains("Progressive JPEG image has more than") {
        return Undecoded::Refused(Refusal::TooLarge {
            name: name.to_owned(),
            what: format!("a progressive JPEG of more than {} scans", limits.scans),
            accepted: format!("at most {} scans", limits.scans),
        });
    }
    Undecoded::Damaged(Damage::of(reason))
}
