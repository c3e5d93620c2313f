const said = document.getElementById("said");

document.getElementById("form").addEventListener("submit", async (e) => {
  e.preventDefault();
  said.textContent = "";
  const field = document.getElementById("passphrase");
  try {
    const answer = await fetch("/api/sign-in", {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-Unspool": "1" },
      body: JSON.stringify({ passphrase: field.value }),
    });
    if (answer.ok) return location.reload();
    const { error, hint } = await answer.json();
    said.textContent = `${error}; ${hint}.`;
  } catch {
    said.textContent = "The bench does not answer; is unspool still running?";
  }
  field.select();
});
