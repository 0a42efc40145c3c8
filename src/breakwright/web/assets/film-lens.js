// A magnified view of the corner that is being moved, away from the finger that moves it.

const ACROSS = 36; // px of the film's picture across the view

export class Lens {
  constructor(canvas, picture) {
    this.canvas = canvas;
    this.picture = picture;
    this.pen = canvas.getContext("2d");
  }

  /** Shows the place `[x, y]` of the picture with the lines of `corners`. */
  show([x, y], corners) {
    const { canvas, picture, pen } = this;
    canvas.hidden = false;
    const box = picture.getBoundingClientRect();
    const view = canvas.parentElement.getBoundingClientRect();
    const onScreen = box.left + (x / picture.naturalWidth) * box.width - view.left;
    canvas.classList.toggle("right", onScreen < view.width / 2);
    const side = canvas.width, s = side / ACROSS;
    pen.imageSmoothingEnabled = false;
    pen.fillStyle = "#000";
    pen.fillRect(0, 0, side, side);
    const left = x - ACROSS / 2, top = y - ACROSS / 2;
    pen.drawImage(picture, left, top, ACROSS, ACROSS, 0, 0, side, side);
    pen.strokeStyle = "#5fd6ff";
    pen.lineWidth = 2;
    pen.beginPath();
    corners.forEach(([cx, cy], i) => {
      pen[i ? "lineTo" : "moveTo"]((cx - left) * s, (cy - top) * s);
    });
    if (corners.length > 2) pen.closePath();
    pen.stroke();
    pen.strokeStyle = "#fff";
    pen.lineWidth = 1;
    pen.beginPath();
    pen.moveTo(side / 2, side / 2 - 14); pen.lineTo(side / 2, side / 2 + 14);
    pen.moveTo(side / 2 - 14, side / 2); pen.lineTo(side / 2 + 14, side / 2);
    pen.stroke();
  }

  hide() {
    this.canvas.hidden = true;
  }
}
