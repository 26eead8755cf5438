//! A picture before it is exposed: layers of drawing and roughness, and how the camera looks at them.

use super::grain::{Dice, Grain};

/// The kind of light the picture is taken in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Light {
    /// Outdoors in sun.
    Sun,
    /// Outdoors under a cloudy sky or in the shade of the unit.
    Shade,
    /// Lamps inside.
    Lamp,
    /// The camera's flash in a dark corner: bright in the middle, dark at the rim.
    Flash,
}

/// One thing laid over what is there already.
#[derive(Debug, Clone)]
pub(crate) enum Layer {
    /// SVG elements drawn in full detail.
    Paint(String),
    /// SVG elements drawn apart, roughened, then laid on: the roughness ends at their edges.
    Part(String, Vec<Grain>),
    /// Layers drawn coarsely and blurred: what is out of focus, and shadows.
    Soft(Vec<Self>, f32),
    /// Roughness over all that is there.
    Grain(Grain),
}

/// A picture being put together, in a view of 800 × 600 units (a portrait picture sees 600 × 800
/// around the same middle, so scenes paint their ground from −120 to 920 and −120 to 720).
#[derive(Debug)]
pub(crate) struct Picture {
    /// Throws for this subject; the same for near-duplicates.
    pub(crate) dice: Dice,
    /// The layers, lowest first.
    pub(crate) layers: Vec<Layer>,
    /// The light.
    pub(crate) light: Light,
    /// How much farther off the right side (or, negative, the left) is: 0 to 0.5.
    pub(crate) yaw: f32,
    /// How much farther off the top (or, negative, the bottom) is: 0 to 0.5.
    pub(crate) pitch: f32,
    /// How far the camera is rolled, in degrees.
    pub(crate) roll: f32,
}

impl Picture {
    /// An empty picture.
    pub(crate) fn new(seed: u64) -> Self {
        Self {
            dice: Dice::new(seed),
            layers: Vec::new(),
            light: Light::Shade,
            yaw: 0.0,
            pitch: 0.0,
            roll: 0.0,
        }
    }

    /// Draws SVG elements.
    pub(crate) fn paint(&mut self, body: impl Into<String>) {
        self.layers.push(Layer::Paint(body.into()));
    }

    /// Draws SVG elements of one rough material.
    pub(crate) fn part(&mut self, body: impl Into<String>, grains: &[Grain]) {
        self.layers.push(Layer::Part(body.into(), grains.to_vec()));
    }

    /// Draws out of focus.
    pub(crate) fn soft(&mut self, radius: f32, far: impl FnOnce(&mut Self)) {
        let nearer = std::mem::take(&mut self.layers);
        far(self);
        let farther = std::mem::replace(&mut self.layers, nearer);
        self.layers.push(Layer::Soft(farther, radius));
    }

    /// Draws the shadow that these SVG elements throw (they should be black and half clear).
    pub(crate) fn shadow(&mut self, radius: f32, body: impl Into<String>) {
        self.layers.push(Layer::Soft(vec![Layer::Paint(body.into())], radius));
    }

    /// Roughens all that is there.
    pub(crate) fn grain(&mut self, grain: Grain) {
        self.layers.push(Layer::Grain(grain));
    }
}
