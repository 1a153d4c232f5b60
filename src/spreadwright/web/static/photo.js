// A phone's photo is made smaller before it is sent: quicker on the boat's network, and without the place it was taken
// at. Where that does not work, the photo goes as it is, and the server has the last word.

const LONGEST = 1600; // pixels of the longer side
const SMALL = 400_000; // bytes: smaller ones are left as they are

async function smaller(file) {
  const image = await createImageBitmap(file, { imageOrientation: "from-image" });
  const scale = Math.min(1, LONGEST / Math.max(image.width, image.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(image.width * scale);
  canvas.height = Math.round(image.height * scale);
  canvas.getContext("2d").drawImage(image, 0, 0, canvas.width, canvas.height);
  const made = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.85));
  return made && made.size < file.size ? new File([made], "photo.jpg", { type: "image/jpeg" }) : file;
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!("photo" in form.dataset)) return;
  const input = form.elements.namedItem("file");
  const [file] = input.files;
  if (!file || file.size <= SMALL) return;
  event.preventDefault();
  try {
    const list = new DataTransfer();
    list.items.add(await smaller(file));
    input.files = list.files;
  } catch {
    // No picture this browser can read: it goes as it is.
  }
  form.submit();
});
