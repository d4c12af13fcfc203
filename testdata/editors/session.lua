-- A session of a real client with "glassbrief serve-editor". Run with:
-- nvim --headless -u NONE -n FILE -c "luafile session.lua"; GLASSBRIEF names the program.
-- Prints what the client got as JSON.
local got = {}
local program = os.getenv("GLASSBRIEF")

local function finish(fault)
  got.fault = fault
  io.stdout:write(vim.fn.json_encode(got))
  vim.cmd("qall!")
end

local function wait(what, until_true)
  if not vim.wait(120000, until_true, 20) then
    finish("nothing came: " .. what)
  end
end

local buffer = vim.api.nvim_get_current_buf()
local client = vim.lsp.start_client({
  name = "glassbrief",
  cmd = { program, "serve-editor" },
  root_dir = vim.fn.getcwd(),
  on_exit = function(code, signal)
    got.exit = code + signal
  end,
})
vim.lsp.buf_attach_client(buffer, client)
wait("initialize", function()
  return vim.lsp.buf_get_clients(buffer)[client] ~= nil
end)
got.filetype = vim.bo.filetype

local function diagnostics()
  local list = {}
  for _, d in ipairs(vim.diagnostic.get(buffer)) do
    table.insert(list, string.format("%d:%d %s", d.lnum, d.col, d.code or d.user_data.lsp.code))
  end
  return list
end

local function request(method, row, column, more)
  local params = {
    textDocument = { uri = vim.uri_from_bufnr(buffer) },
    position = { line = row, character = column },
    options = { tabSize = 2, insertSpaces = true },
  }
  for name, value in pairs(more or {}) do
    params[name] = value
  end
  local answers = vim.lsp.buf_request_sync(buffer, method, params, 20000)
  local answer = answers and answers[client]
  if not answer then
    finish("nothing came: " .. method)
  end
  return answer.result
end

local function find(text)
  for row, line in ipairs(vim.api.nvim_buf_get_lines(buffer, 0, -1, false)) do
    local column = line:find(text, 1, true)
    if column then
      return row - 1, column - 1
    end
  end
  finish("the text lacks " .. text)
end

-- A fault as it is typed, and its going.
local row = find("  distance")
local whole = vim.api.nvim_buf_get_lines(buffer, row, row + 1, false)
vim.api.nvim_buf_set_lines(buffer, row, row + 1, false, { "  distance  2 // ä" })
wait("a finding", function()
  return #vim.diagnostic.get(buffer) > 0
end)
got.typed = diagnostics()
vim.api.nvim_buf_set_lines(buffer, row, row + 1, false, whole)
wait("the finding's going", function()
  return #vim.diagnostic.get(buffer) == 0
end)

-- What a lens is, and what may stand in its place.
local lens_row, lens_column = find('"Wide 18"')
got.hover = request("textDocument/hover", lens_row, lens_column + 2).contents.value
got.completion = {}
for _, item in ipairs(request("textDocument/completion", lens_row, lens_column + 2).items) do
  table.insert(got.completion, item.label)
end
local shot_row, shot_column = find('shot "1A" lens')
got.definition = request("textDocument/definition", shot_row, shot_column + 6).range.start.line

-- A fault that is corrected by the client's own way of making edits.
vim.api.nvim_buf_set_lines(buffer, row, row + 1, false, { "  distance  1.6..2.8m // ä", "  move lead 1m/s" })
wait("a finding to correct", function()
  return #vim.diagnostic.get(buffer) > 0
end)
local actions = request("textDocument/codeAction", row, 0, {
  range = { start = { line = 0, character = 0 }, ["end"] = { line = 100, character = 0 } },
  context = { diagnostics = {}, only = { "source.fixAll" } },
})
vim.lsp.util.apply_workspace_edit(actions[1].edit, "utf-16")
wait("the corrected finding's going", function()
  return #vim.diagnostic.get(buffer) == 0
end)
got.fixed = vim.api.nvim_buf_get_lines(buffer, row, row + 1, false)[1]

-- What stands above the shot, a rename and its way back.
local function lens()
  return request("textDocument/codeLens", 0, 0)[1].command.title
end
local function rename(name)
  local at, column = find("shot \"")
  vim.lsp.util.apply_workspace_edit(request("textDocument/rename", at, column + 6, { newName = name }), "utf-16")
end
local function text()
  return table.concat(vim.api.nvim_buf_get_lines(buffer, 0, -1, false), "\n")
end
got.lens = lens()
local before = text()
rename("Zwölf")
got.renamed = {}
for _, line in ipairs(vim.api.nvim_buf_get_lines(buffer, 0, -1, false)) do
  if line:find("Zwölf", 1, true) then
    table.insert(got.renamed, line)
  end
end
got.same_lens = lens() == got.lens
rename("1A")
got.same = text() == before
vim.api.nvim_buf_set_lines(buffer, row, row + 2, false, whole)

-- The client's own formatting command.
vim.lsp.buf.formatting_sync(nil, 20000)
got.formatted = vim.api.nvim_buf_get_lines(buffer, 0, -1, false)

vim.lsp.stop_client(client)
wait("the end of the server", function()
  return got.exit ~= nil
end)
finish(nil)
